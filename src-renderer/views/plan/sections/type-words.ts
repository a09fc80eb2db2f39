/** Types of datums in words. */
export const typeWords: Record<string, string> = {
  plane: 'Plane',
  cylinder: 'Cylinder',
  midplane: 'Mid-plane of two faces',
  circle: 'Circle',
  line: 'Line',
  cone: 'Cone',
  sphere: 'Sphere',
  point: 'Point',
  pattern: 'Pattern of features',
};
