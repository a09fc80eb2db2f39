/** Where the disc is looked at from, in the terms of a turntable with the disc axis upright. */

export interface Camera {
  /** Degrees about +Z from +X. */
  readonly azimuth: number;
  /** Degrees above the plane of the disc. */
  readonly elevation: number;
  /** In lengths of the scene's longest side. */
  readonly distance: number;
  /** Place that is looked at, in the same lengths from the middle of the scene. */
  readonly centre: readonly [number, number, number];
}

/** Straight above, the plot library would lose which way is up. */
const STEEPEST = 89.9;
const [NEAREST, FARTHEST] = [0.15, 4];

export const fromZ: Camera = { azimuth: -90, elevation: STEEPEST, distance: 1.05, centre: [0, 0, 0] };
export const edgeOn: Camera = { azimuth: -90, elevation: 0, distance: 1.05, centre: [0, 0, 0] };
export const oblique: Camera = { azimuth: -62, elevation: 36, distance: 1.0, centre: [0, 0, 0] };

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

export function turned(now: Camera, azimuth: number, elevation: number): Camera {
  return {
    ...now,
    azimuth: now.azimuth + azimuth,
    elevation: Math.max(-STEEPEST, Math.min(STEEPEST, now.elevation + elevation)),
  };
}

export function nearer(now: Camera, factor: number): Camera {
  return { ...now, distance: Math.max(NEAREST, Math.min(FARTHEST, now.distance / factor)) };
}

/** Degrees that an arrow key turns. */
const STEP = 10;
const ZOOM = 1.2;

/** What a key does to the camera; null: nothing. */
export function cameraKey(key: string): ((now: Camera) => Camera) | null {
  if (key === 'ArrowLeft') return (now) => turned(now, -STEP, 0);
  if (key === 'ArrowRight') return (now) => turned(now, STEP, 0);
  if (key === 'ArrowUp') return (now) => turned(now, 0, STEP);
  if (key === 'ArrowDown') return (now) => turned(now, 0, -STEP);
  if (key === '+') return (now) => nearer(now, ZOOM);
  if (key === '-') return (now) => nearer(now, 1 / ZOOM);
  return key === 'Home' ? () => oblique : null;
}

/** Looks at a place from outside and a little above. */
export function at(place: readonly [number, number, number]): Camera {
  const azimuth = (Math.atan2(place[1], place[0]) * 180) / Math.PI;
  return { azimuth: azimuth + 18, elevation: 24, distance: 0.42, centre: place };
}

/** As the plot library takes it. */
export function cameraLayout({ azimuth, elevation, distance, centre: [x, y, z] }: Camera) {
  const [a, e] = [radians(azimuth), radians(elevation)];
  return {
    up: { x: 0, y: 0, z: 1 },
    center: { x, y, z },
    eye: {
      x: x + distance * Math.cos(e) * Math.cos(a),
      y: y + distance * Math.cos(e) * Math.sin(a),
      z: z + distance * Math.sin(e),
    },
    projection: { type: 'perspective' as const },
  };
}

interface Point3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** The camera to which the person has dragged the plot; null where the change says nothing of it. */
export function cameraMoved(change: Readonly<Record<string, unknown>>): Camera | null {
  const camera = change['scene.camera'] as { readonly eye?: Point3; readonly center?: Point3 } | undefined;
  if (camera?.eye === undefined || camera.center === undefined) return null;
  const { eye, center } = camera;
  const [dx, dy, dz] = [eye.x - center.x, eye.y - center.y, eye.z - center.z];
  const distance = Math.hypot(dx, dy, dz);
  if (!(distance > 0)) return null;
  return {
    azimuth: (Math.atan2(dy, dx) * 180) / Math.PI,
    elevation: (Math.asin(dz / distance) * 180) / Math.PI,
    distance,
    centre: [center.x, center.y, center.z],
  };
}
