/**
 * Reduction of measured lengths to the reference temperature of 20 °C: scale by 1 + α·(20 − T) about a fixed point.
 *
 * A temperature column wins over the plan's part temperature; a feature uses the mean over its points.
 * Source: ISO 1:2022 (reference temperature); linear expansion is common practice, no source.
 */
import type { TemperatureDefinition } from '../definition.ts';
import type { Vec3 } from '../geometry/types.ts';
import type { Note } from '../notes/notes.ts';
import type { PointBlock } from '../points.ts';

const REFERENCE_TEMPERATURE = 20;

/** A spread over one feature above this, in K, is worth a warning: at 8.6e-6/K and 240 mm it is 2 µm. */
const NOTABLE_SPREAD = 1;

export interface FeatureTemperature {
  /** °C. */
  readonly mean: number;
  /** Largest minus smallest, K; 0 where the plan's value is used. */
  readonly spread: number;
}

/** Temperature of a feature: the mean of its column where it has one, else the plan's part temperature. */
function featureTemperature(block: PointBlock, definition: TemperatureDefinition): FeatureTemperature {
  const known = block.temperature?.filter((t) => Number.isFinite(t));
  if (known === undefined || known.length === 0) return { mean: definition.part, spread: 0 };
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (const t of known) {
    sum += t;
    low = Math.min(low, t);
    high = Math.max(high, t);
  }
  return { mean: sum / known.length, spread: high - low };
}

/** 1 + α·(20 − T) for the block. */
function scaleToReference(block: PointBlock, definition: TemperatureDefinition): number {
  return 1 + definition.expansion * (REFERENCE_TEMPERATURE - featureTemperature(block, definition).mean);
}

/**
 * The block with its points scaled about `centre` to 20 °C, or itself where the file already holds 20 °C values. Tip radii
 * scale along, so that compensating after scaling gives the scaled surface point: f·(x − r·n) = f·x − (f·r)·n.
 */
export function atReferenceTemperature(
  block: PointBlock,
  definition: TemperatureDefinition | null,
  centre: Vec3,
): PointBlock {
  if (definition === null || definition.applied) return block;
  const factor = scaleToReference(block, definition);
  if (factor === 1) return block;
  const xyz = block.xyz.map((x, i) => centre[i % 3]! + factor * (x - centre[i % 3]!));
  return { ...block, xyz, tipRadius: block.tipRadius?.map((r) => factor * r) ?? null };
}

/** A note for each feature whose temperature spread is notable. */
export function temperatureWarnings(
  blocks: readonly PointBlock[],
  definition: TemperatureDefinition | null,
): readonly Note[] {
  if (definition === null || definition.applied) return [];
  return blocks.flatMap((block) => {
    const { spread } = featureTemperature(block, definition);
    if (spread <= NOTABLE_SPREAD) return [];
    const { station, feature } = block;
    return [{ code: 'temperature-spread', values: { station, feature, spread } }];
  });
}
