/** What the measured points say beside the drawing's numbers: hints that put nothing into the plan. */
import type { FeatureShape, PointsPreview } from '../../../src-main/api.ts';

export function shapeOf(preview: PointsPreview | null, feature: string): FeatureShape | null {
  return preview?.shapes.find((shape) => shape.feature === feature && shape.looks.length > 0) ?? null;
}

const articles = { plane: 'a plane', circle: 'a circle', cylinder: 'a cylinder' } as const;

/** `looks like a cylinder of radius 72.000 mm`; empty where the points look like nothing simple. */
export function shapeWords(preview: PointsPreview | null, feature: string): string {
  const shape = shapeOf(preview, feature);
  if (preview === null || shape === null) return '';
  const words = shape.looks.map((look) => articles[look]).join(' or ');
  const radius = shape.radius === null ? '' : ` of radius ${shape.radius.toFixed(3)} mm`;
  return `looks like ${words}${radius}${tipWords(preview, shape)}`;
}

/** `measured: 72.000`; empty where no round shape was seen. */
export function radiusWords(preview: PointsPreview | null, feature: string): string {
  const shape = shapeOf(preview, feature);
  if (preview === null || shape === null || shape.radius === null) return '';
  return `measured: ${shape.radius.toFixed(3)}${tipWords(preview, shape)}`;
}

function tipWords({ taken }: PointsPreview, { radius }: FeatureShape): string {
  return radius !== null && (taken.columns?.['r'] ?? null) !== null ? ' (of the tip centres)' : '';
}

export function ringWords(preview: PointsPreview | null): string {
  if (preview?.ring === null || preview?.ring === undefined) return '';
  const { radius, stations } = preview.ring;
  return `In ${preview.name} the points of ${stations} blades lie around a circle of radius ${radius.toFixed(1)} mm; the blade origin of the drawing may lie further in or out.`;
}
