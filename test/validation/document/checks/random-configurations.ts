/** Fits of random configurations, poses by datums and by best fit, against SciPy. */
import { fitBody } from '../../../../shared-math/alignment/fit-body.ts';
import type { DatumDefinition, FeatureType, NominalFeature } from '../../../../shared-math/definition.ts';
import { BLADE_AXES } from '../../../../shared-math/frame/axis-names.ts';
import { buildDatumFrame } from '../../../../shared-math/frame/datum-system.ts';
import { IDENTITY_MOTION, relativeMotion } from '../../../../shared-math/geometry/rigid-motion.ts';
import { rotationVector } from '../../../../shared-math/geometry/rotation.ts';
import type { RigidMotion } from '../../../../shared-math/geometry/types.ts';
import { angleBetween, distance, norm } from '../../../../shared-math/geometry/vector.ts';
import { associatedBy, associatedCase, type FittedCase } from '../../../support/associated-case.ts';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Random configurations';

interface FeatureCase extends FittedCase {
  /** How the orientation is held. */
  readonly held?: string;
}

interface PoseCase {
  readonly kind: string;
  readonly datums: readonly { type: FeatureType; nominal: NominalFeature; xyz: number[] }[];
  readonly expected: RigidMotion;
}

const LENGTH = 1e-9;
const ANGLE = 1e-11;
/** Relative, of Σd²: twice the digits that its rounding costs against the squares of coordinates over noise. */
const SQUARES = 1e-8;

export function randomConfigurations(): Chapter {
  const random = fixture<{ features: FeatureCase[]; poses: PoseCase[] }>('random-configurations.json');
  const chosen = fixture<{ cases: FeatureCase[] }>('associations-scipy.json');
  const fits = new Checks(
    GROUP,
    'SciPy 1.17.1, least_squares (lm, 1e-15), polished by Gauss–Newton in 80-bit precision; test/validation/scripts/random-configurations.py, seed 20261126',
  );
  for (const c of random.features) compareFit(fits, c.held ? `${c.type}, ${c.held}` : c.type, c);
  for (const pose of random.poses) comparePose(fits, pose);
  const hard = new Checks(
    GROUP,
    'The same solver on chosen hard cases (arcs of 20°, minimum points plus one, weights, tip radii, 10 m from the origin, radii from 0.5 mm to 5 m); test/validation/scripts/associations.py, seed 20261125',
  );
  for (const c of chosen.cases) compareFit(hard, `${c.type}, hard cases`, c);
  return {
    group: GROUP,
    text: `${random.features.length} random features and ${random.poses.length} random poses: sizes 2 to 200 mm, noise 1e-5 to 1e-3 of the size, 8 to 40 points, places 10 to
2000 mm from the origin, arcs from 60°, a quarter weighted; starts 3° off. Poses by three datums in order of precedence (later ones held
by the earlier), and by best fit to three to five features, of bodies turned by about 0.01 rad. Every parameter of a fit is a value here;
sums of squares agree to 1e-8 of themselves. Poses: 1e-9 mm, 1e-11 rad.`,
    checks: [...fits.list, ...hard.list],
  };
}

function datumOf(type: FeatureType, nominal: NominalFeature, label: string): DatumDefinition {
  return {
    label,
    features: [label],
    type,
    nominal,
    side: null,
    material: 'negative',
    clocking: 'direction',
    weights: 'equal',
    association: 'gaussian',
  };
}

function compareFit(checks: Checks, name: string, c: FeatureCase): void {
  const fit = associatedCase(c);
  const { expected } = c;
  const reach = [...c.xyz, ...(c.xyzB ?? [])].reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const rounding = 20 * Number.EPSILON * fit.conditionNumber * reach;
  const [length, angle] = [Math.max(LENGTH, rounding), Math.max(ANGLE, rounding)];
  checks.add(name, distance(fit.point, expected.point), 0, length, 'mm');
  if (expected.direction) checks.add(name, angleBetween(fit.direction!, expected.direction), 0, angle, 'rad');
  if (expected.radius !== undefined) checks.add(name, fit.radius!, expected.radius, length, 'mm');
  if (expected.halfAngle !== undefined) checks.add(name, fit.halfAngle!, expected.halfAngle, angle, 'rad');
  if (expected.faceOffset !== undefined) checks.add(name, fit.faceOffset!, expected.faceOffset, length, 'mm');
  const squares = SQUARES * expected.sumOfSquares;
  checks.add('sums of squares of all fits', fit.sumOfSquares, expected.sumOfSquares, squares, 'mm²');
}

function comparePose(checks: Checks, { kind, datums, expected }: PoseCase): void {
  const measured = datums.map(({ type, nominal, xyz }, i) => ({
    datum: datumOf(type, nominal, 'ABCDEF'[i]!),
    inputs: [{ xyz: Float64Array.from(xyz) }],
  }));
  const inputsOf = new Map(measured.map(({ datum, inputs }) => [datum, inputs]));
  const motion = kind.startsWith('best fit')
    ? fitBody(
        measured.map(({ datum, inputs }) => ({ datum, nominal: datum.nominal, inputs })),
        IDENTITY_MOTION,
      ).motion
    : buildDatumFrame(
        measured.map((m) => m.datum),
        (datum, orientation) => associatedBy({ type: datum.type }, inputsOf.get(datum)![0]!, orientation),
        IDENTITY_MOTION,
        BLADE_AXES,
      ).motion;
  const off = relativeMotion(expected, motion);
  checks.add(`pose, ${kind}`, distance(motion.translation, expected.translation), 0, LENGTH, 'mm');
  checks.add(`pose, ${kind}`, norm(rotationVector(off.rotation)), 0, ANGLE, 'rad');
}
