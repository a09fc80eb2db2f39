/**
 * The few rigid motions that the sample discs need, written here from their definitions and not taken from
 * shared-math: the discs are then an independent check of the reduction, sign conventions included.
 * Lengths mm, angles rad; matrices as rows, acting from the left.
 */

export type Triple = [number, number, number];
export type Matrix = [Triple, Triple, Triple];

export interface Motion {
  rotation: Matrix;
  translation: Triple;
}

/** Oscillation, lateral, upset (mm at the blade origin); rotation vector about them (rad). */
export type SixVector = [number, number, number, number, number, number];

export const still: Motion = {
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  translation: [0, 0, 0],
};

export function add(a: Triple, b: Triple): Triple {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

export function scale(a: Triple, factor: number): Triple {
  return [a[0] * factor, a[1] * factor, a[2] * factor];
}

export function dot(a: Triple, b: Triple): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Triple, b: Triple): Triple {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function unit(a: Triple): Triple {
  return scale(a, 1 / Math.hypot(...a));
}

export function turn(m: Matrix, v: Triple): Triple {
  return [dot(m[0], v), dot(m[1], v), dot(m[2], v)];
}

export function transpose(m: Matrix): Matrix {
  return [
    [m[0][0], m[1][0], m[2][0]],
    [m[0][1], m[1][1], m[2][1]],
    [m[0][2], m[1][2], m[2][2]],
  ];
}

export function move(motion: Motion, point: Triple): Triple {
  return add(turn(motion.rotation, point), motion.translation);
}

/** The motion that does the last of the list first. */
export function compose(...motions: readonly Motion[]): Motion {
  return motions.reduce((outer, inner) => {
    const columns = transpose(inner.rotation);
    return {
      rotation: transpose([
        turn(outer.rotation, columns[0]),
        turn(outer.rotation, columns[1]),
        turn(outer.rotation, columns[2]),
      ]),
      translation: move(outer, inner.translation),
    };
  });
}

export function inverse(motion: Motion): Motion {
  const rotation = transpose(motion.rotation);
  return { rotation, translation: scale(turn(rotation, motion.translation), -1) };
}

/** Rotation by |vector| radians about the vector (Rodrigues). */
export function rotationBy(vector: Triple): Matrix {
  const angle = Math.hypot(...vector);
  if (angle === 0) return still.rotation;
  const k = scale(vector, 1 / angle);
  const images = still.rotation.map((axis) =>
    add(
      add(scale(axis, Math.cos(angle)), scale(cross(k, axis), Math.sin(angle))),
      scale(k, dot(k, axis) * (1 - Math.cos(angle))),
    ),
  ) as Matrix;
  return transpose(images);
}

/** Rotation vector of a rotation well short of half a turn, which all errors of a blade are. */
export function rotationVector(r: Matrix): Triple {
  const axial: Triple = [(r[2][1] - r[1][2]) / 2, (r[0][2] - r[2][0]) / 2, (r[1][0] - r[0][1]) / 2];
  const sine = Math.hypot(...axial);
  if (sine === 0) return [0, 0, 0];
  return scale(axial, Math.atan2(sine, (r[0][0] + r[1][1] + r[2][2] - 1) / 2) / sine);
}

export function motionOf(errors: SixVector): Motion {
  return {
    rotation: rotationBy([errors[3], errors[4], errors[5]]),
    translation: [errors[0], errors[1], errors[2]],
  };
}

export function errorsOf(motion: Motion): SixVector {
  return [...motion.translation, ...rotationVector(motion.rotation)];
}

/** Where a blade sits on its disc: lengths mm, angles in degrees as on the drawing. */
export interface Seat {
  radius: number;
  axial: number;
  heightAngle: number;
  staggerAngle: number;
}

/** The nominal blade frame at a station angle (rad): blade coordinates in, disc coordinates out. */
export function bladeFrame(seat: Seat, angle: number): Motion {
  const height = (seat.heightAngle * Math.PI) / 180;
  const stagger = (seat.staggerAngle * Math.PI) / 180;
  const radial: Triple = [Math.cos(angle), Math.sin(angle), 0];
  const axial: Triple = [0, 0, 1];
  const tangential = cross(axial, radial);
  const upset = add(scale(radial, Math.cos(height)), scale(axial, Math.sin(height)));
  const raised = add(scale(radial, -Math.sin(height)), scale(axial, Math.cos(height)));
  const oscillation = add(scale(raised, Math.cos(stagger)), scale(tangential, Math.sin(stagger)));
  const lateral = cross(upset, oscillation);
  return {
    rotation: transpose([oscillation, lateral, upset]),
    translation: add(scale(radial, seat.radius), scale(axial, seat.axial)),
  };
}
