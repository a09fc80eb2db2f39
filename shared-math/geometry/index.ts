/** Vectors, rotations and rigid motions. */
export * from './matrix.ts';
export * from './registration.ts';
export * from './rigid-motion.ts';
export * from './rotation.ts';
export * from './rotation-jacobian.ts';
export type { Mat3, RigidMotion, Vec3 } from './types.ts';
export * from './vector.ts';
