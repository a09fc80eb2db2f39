/** Assembles the record that every association returns. */
import { Matrix } from 'ml-matrix';
import { ReductionError } from '../errors.ts';
import { type ResidualSummary, type Surface, summarizeResiduals } from './residuals.ts';
import { spectrumOfColumns } from './triangular-factor.ts';
import type { AssociationInput, SubstituteFeature } from './types.ts';

/** How the numbers of a fit came about. */
export interface FitRecord {
  readonly parameters: readonly string[];
  /** In mm and rad. */
  readonly cofactor: readonly (readonly number[])[];
  readonly conditionNumber: number;
  readonly iterations: number;
  readonly stopReason: SubstituteFeature['stopReason'];
}

/** The feature with residuals of `input`; `components` residuals a point (2 for a line, 3 for a point). */
export function substitute(
  surface: Surface,
  input: AssociationInput,
  fit: FitRecord,
  components = 1,
  summary: ResidualSummary = summarizeResiduals(surface, input),
  points = input.xyz.length / 3,
): SubstituteFeature {
  return {
    type: surface.type,
    point: surface.point,
    direction: surface.direction,
    radius: surface.radius,
    halfAngle: surface.halfAngle,
    points,
    sumOfSquares: summary.sumOfSquares,
    rms: summary.rms,
    form: summary.form,
    degreesOfFreedom: components * points - degreesTaken(surface, fit),
    parameters: fit.parameters,
    cofactor: fit.cofactor,
    conditionNumber: fit.conditionNumber,
    iterations: fit.iterations,
    stopReason: fit.stopReason,
  };
}

/** Parameters that the residuals of the feature see: a circle's residual is radial, so its plane takes none. */
function degreesTaken(surface: Surface, fit: FitRecord): number {
  return surface.type === 'circle' ? 3 : fit.parameters.length;
}

/** Condition number and cofactor of a compressed Jacobian in scaled parameters; `units` carry the cofactor to mm, rad. */
export function cofactorOf(
  rows: readonly (readonly number[])[],
  units: readonly number[],
): Pick<FitRecord, 'cofactor' | 'conditionNumber'> {
  const columns = units.map((_, j) => rows.map((row) => row[j]!));
  const { cofactor, conditionNumber } = spectrumOfColumns(columns);
  return { cofactor: scaleCofactor(cofactor, units), conditionNumber };
}

/** cofactor[i][j]·units[i]·units[j]: from scaled parameters to mm and rad. */
export function scaleCofactor(
  cofactor: readonly (readonly number[])[],
  units: readonly number[],
): readonly (readonly number[])[] {
  return cofactor.map((row, i) => row.map((value, j) => value * units[i]! * units[j]!));
}

/**
 * Cofactor in new parameters q = transform·p.
 * @param transform rows ∂q_i/∂p_j
 */
export function transformCofactor(
  cofactor: readonly (readonly number[])[],
  transform: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const t = new Matrix(transform.map((row) => [...row]));
  const c = new Matrix(cofactor.map((row) => [...row]));
  return t.mmul(c).mmul(t.transpose()).to2DArray();
}

/** Tip-centre points of a feature without a side cannot be compensated by a fit. */
export function refuseOffsets(input: AssociationInput, what: 'line' | 'point'): void {
  if (!input.offsets?.some((offset) => offset !== 0)) return;
  throw ReductionError.of('missing-normals', { code: 'tips-without-side', values: { what } });
}
