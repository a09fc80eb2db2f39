/** The association that a case of fitted points calls for, of whichever type of feature. */
import {
  type AssociationInput,
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associateMidplane,
  associatePlane,
  associatePoint,
  associateSphere,
  type MidplaneFeature,
  type Orientation,
  type SubstituteFeature,
} from '../../shared-math/association/index.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';

/** Points (x y z in turn, mm) and what another program found in them. */
export interface FittedCase {
  readonly type: SubstituteFeature['type'];
  readonly xyz: number[];
  /** The second face of a mid-plane. */
  readonly xyzB?: number[];
  readonly weights?: number[];
  readonly offsets?: number[];
  readonly orientation?: Orientation;
  readonly nominal?: { readonly halfAngle: number; readonly radius: number };
  readonly expected: {
    readonly point: Vec3;
    readonly direction?: Vec3;
    readonly radius?: number;
    readonly halfAngle?: number;
    readonly faceOffset?: number;
    readonly sumOfSquares: number;
  };
}

type Associated = SubstituteFeature & Partial<Pick<MidplaneFeature, 'faceOffset'>>;

export function associatedCase(c: FittedCase): Associated {
  const input: AssociationInput = {
    xyz: Float64Array.from(c.xyz),
    weights: c.weights ? Float64Array.from(c.weights) : null,
    offsets: c.offsets ? Float64Array.from(c.offsets) : null,
  };
  return associatedBy(c, input, c.orientation ?? { kind: 'free', start: null });
}

export function associatedBy(
  c: Pick<FittedCase, 'type' | 'xyzB' | 'nominal'>,
  input: AssociationInput,
  orientation: Orientation,
): Associated {
  switch (c.type) {
    case 'point':
      return associatePoint(input);
    case 'plane':
      return associatePlane(input, orientation);
    case 'line':
      return associateLine(input, orientation);
    case 'circle':
      return associateCircle(input, orientation);
    case 'sphere':
      return associateSphere(input);
    case 'cylinder':
      return associateCylinder(input, orientation);
    case 'cone':
      return associateCone(input, orientation, c.nominal!);
    case 'midplane':
      return associateMidplane(input, { xyz: Float64Array.from(c.xyzB!) }, orientation);
  }
}
