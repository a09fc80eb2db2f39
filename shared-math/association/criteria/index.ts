/** Associations by other criteria than least squares, and the robust screen of outliers. */
export { associateByCriterion, CRITERION_TYPES, type CriterionOptions } from './associate-by-criterion.ts';
export {
  type OutlierScreen,
  type ScreenedFeature,
  type ScreenOptions,
  screenOutliers,
} from './robust-screen.ts';
export type {
  AlternativeOptimum,
  AssociationCriterion,
  Certificate,
  CriterionFeature,
  CriterionFeatureType,
} from './types.ts';
