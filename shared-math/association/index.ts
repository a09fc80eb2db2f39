/** Substitute features by orthogonal-distance least squares, and the solver they share. */
export { associateCircle } from './circle.ts';
export { associateCone, type ConeNominal } from './cone.ts';
export { associateCylinder, type CylinderNominal } from './cylinder.ts';
export { tangentBasis } from './direction.ts';
export { associateLine } from './line.ts';
export { associateMidplane, type MidplaneFeature, midplaneResiduals } from './midplane.ts';
export { associatePlane } from './plane.ts';
export { associatePoint } from './point.ts';
export { residualDistances, summarizeResiduals } from './residuals.ts';
export {
  type LeastSquaresProblem,
  type LeastSquaresSolution,
  type SolverOptions,
  solveLeastSquares,
} from './solver.ts';
export { associateSphere } from './sphere.ts';
export { type Spectrum, spectrumOf, TriangularFactor } from './triangular-factor.ts';
export type { AssociationInput, Orientation, SubstituteFeature } from './types.ts';
