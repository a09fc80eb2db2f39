/** From the plan file (degrees, optional keys) to what the mathematics takes (radians, everything resolved). */
import type {
  AdjustmentDefinition,
  AdjustmentRange,
  BudgetDefinition,
  Datum,
  DatumDefinition,
  DecisionDefinition,
  FeatureType,
  LimitName,
  PartDefinition,
  PatternRequirement,
  ScreenDefinition,
  StationDefinition,
  UncertaintyDefinition,
} from '../../shared-math/definition.ts';
import { meanPoint } from '../../shared-math/frame/pattern-freedoms.ts';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import { featuresOf } from './plan-features.ts';
import type { PlanDatum, PlanFile, PlanMember } from './plan-schema.ts';
import { checkPointsOf, limitsAt, positionAt, seatAt, unit } from './station-requirements.ts';

const RADIANS = Math.PI / 180;

/** Standard reference temperature, ISO 1. */
const REFERENCE_TEMPERATURE = 20;

/** Features whose direction sets the clocking unless the plan says otherwise; the others set it by their location. */
const CLOCKED_BY_DIRECTION: ReadonlySet<FeatureType> = new Set(['plane', 'line']);

/** The definition of a plan that has passed every check. */
export function toDefinition(plan: PlanFile): PartDefinition {
  const { disc, blade, temperature } = plan;
  return {
    sense: disc.sense ?? 'counterclockwise',
    explicitAngles: Array.isArray(disc.angles),
    hubDatums: disc.datums.map((datum) => datumDefinition(datum, plan)),
    bladeDatums: blade.datums.map((datum) => datumDefinition(datum, plan)),
    pose: blade.pose ?? 'datum',
    stations: Array.from({ length: disc.stations }, (_, index) => stationDefinition(plan, index + 1)),
    temperature:
      temperature === undefined
        ? null
        : {
            applied: temperature.applied,
            part: temperature.part ?? REFERENCE_TEMPERATURE,
            expansion: temperature.expansion ?? 0,
          },
    uncertainty: uncertaintyDefinition(plan),
    decision: decisionDefinition(plan),
    pattern: patternRequirement(plan),
    budget: budgetDefinition(plan),
    adjustments: adjustmentDefinition(plan),
  };
}

function budgetDefinition({ budget }: PlanFile): BudgetDefinition | null {
  if (budget === undefined) return null;
  const { others = [], ...lines } = budget;
  return {
    lines: withoutUndefined(lines),
    others: others.map(({ name, allocated, found }) => ({
      name,
      allocated: allocated ?? null,
      found: found ?? null,
    })),
  };
}

/** A block that is there lists all that can be set; without it everything can. */
function adjustmentDefinition({ adjustments }: PlanFile): AdjustmentDefinition | null {
  if (adjustments === undefined) return null;
  const { tool = {}, hub = {}, index } = adjustments;
  return {
    tool: rangesOf(tool),
    hub: rangesOf(hub),
    index: index === undefined ? null : rangeOf(index),
  };
}

type PlanRange = NonNullable<NonNullable<PlanFile['adjustments']>['index']>;

function rangeOf({ limit, step }: PlanRange): AdjustmentRange {
  return { limit: limit ?? null, step: step ?? null };
}

function rangesOf<Freedom extends string>(
  ranges: Partial<Record<Freedom, PlanRange | undefined>>,
): Partial<Record<Freedom, AdjustmentRange>> {
  const listed = Object.entries<PlanRange | undefined>(ranges).flatMap(([freedom, range]) =>
    range === undefined ? [] : [[freedom, rangeOf(range)] as const],
  );
  return Object.fromEntries(listed) as Partial<Record<Freedom, AdjustmentRange>>;
}

function withoutUndefined<K extends string>(values: Partial<Record<K, number | undefined>>) {
  const kept = Object.entries(values).filter(([, value]) => value !== undefined);
  return Object.fromEntries(kept) as Partial<Record<K, number>>;
}

/** Without a list every motion of the pattern is free. */
function patternRequirement({ blade }: PlanFile): PatternRequirement | null {
  const relating = blade.position.featureRelating;
  if (relating === undefined) return null;
  return { tolerance: relating.tolerance, free: relating.free ?? PATTERN_FREEDOMS };
}

/** Coverage probability where the plan states none: common practice, no source. */
const COVERAGE = 0.95;

function uncertaintyDefinition({ uncertainty, temperature }: PlanFile): UncertaintyDefinition {
  return {
    probing: uncertainty?.probing ?? null,
    scale: uncertainty?.scale ?? 0,
    temperatureScale: temperature === undefined ? 0 : temperatureScale(temperature),
    formCorrelation: uncertainty?.formCorrelation ?? 0,
    coverage: uncertainty?.coverage ?? COVERAGE,
  };
}

/** Conformance probability where a guarded plan states none: ISO 14253-1:2017, default limit 95 % (value from memory). */
const CONFORMANCE_PROBABILITY = 0.95;

function decisionDefinition({ decision }: PlanFile): DecisionDefinition {
  if (decision === undefined || decision.rule === 'simple') return { rule: 'simple' };
  if (decision.factor !== undefined) return { rule: 'guarded', factor: decision.factor };
  return { rule: 'guarded', probability: decision.probability ?? CONFORMANCE_PROBABILITY };
}

/** Relative standard uncertainty of α·(20 − T): √((α·u(T))² + ((20 − T)·u(α))²). */
function temperatureScale({
  part,
  expansion,
  uPart,
  uExpansion,
}: NonNullable<PlanFile['temperature']>): number {
  return Math.hypot(
    (expansion ?? 0) * (uPart ?? 0),
    (REFERENCE_TEMPERATURE - (part ?? REFERENCE_TEMPERATURE)) * (uExpansion ?? 0),
  );
}

/** θ of a station in degrees: firstAngle ± (k − 1)·360°/N, or the explicit list. */
export function stationAngle({ disc }: PlanFile, station: number): number {
  const listed = disc.angles?.[station - 1];
  if (listed !== undefined) return listed;
  const turn = disc.sense === 'clockwise' ? -1 : 1;
  return (disc.firstAngle ?? 0) + (turn * (station - 1) * 360) / disc.stations;
}

function stationDefinition(plan: PlanFile, station: number): StationDefinition {
  const seat = seatAt(plan, station);
  const limits: Partial<Record<LimitName, number>> = {};
  for (const [name, limit] of Object.entries(limitsAt(plan, station)))
    if (limit !== undefined) limits[name as LimitName] = limit;
  return {
    station,
    angle: stationAngle(plan, station) * RADIANS,
    seat: {
      radius: seat.radius,
      axial: seat.axial,
      heightAngle: seat.heightAngle * RADIANS,
      staggerAngle: seat.staggerAngle * RADIANS,
    },
    requirement: { checkPoints: checkPointsOf(positionAt(plan, station)), limits },
  };
}

function datumDefinition(datum: PlanDatum, plan: PlanFile): Datum {
  const { label, type, nominal, members } = datum;
  const weights = datum.weights ?? plan.weights ?? 'equal';
  if (type === 'pattern') {
    const parts = members!.map((member, k) => ({
      ...surfaceDefinition(`${label}.${k + 1}`, member),
      weights,
    }));
    return {
      label,
      type,
      features: parts.flatMap(({ features }) => features),
      nominal: {
        point: meanPoint(parts.map((part) => part.nominal.point)),
        direction: null,
        radius: null,
        halfAngle: null,
      },
      members: parts,
    };
  }
  const surface = surfaceDefinition(label, { ...datum, type, nominal: nominal! });
  return {
    ...surface,
    clocking: datum.clocking ?? surface.clocking,
    weights,
    association: datum.association ?? plan.association ?? 'gaussian',
    screen: screenDefinition(datum.screen === undefined ? plan.screen : datum.screen),
  };
}

/** A feature by itself, with the usual clocking and by least squares. */
function surfaceDefinition(label: string, surface: PlanMember): DatumDefinition {
  const { type, nominal } = surface;
  const directed = type !== 'sphere' && type !== 'point' && nominal.direction;
  return {
    label,
    features: featuresOf(surface),
    type,
    nominal: {
      point: nominal.point,
      direction: directed ? unit(directed) : null,
      radius: nominal.radius ?? null,
      halfAngle: typeof nominal.halfAngle === 'number' ? nominal.halfAngle * RADIANS : null,
    },
    side: surface.side ?? null,
    material: surface.material ?? 'negative',
    clocking: CLOCKED_BY_DIRECTION.has(type) ? 'direction' : 'location',
    weights: 'equal',
    association: 'gaussian',
  };
}

/** Robust standard deviations beyond which a point is flagged where a screen states none: common practice, no source. */
const CUTOFF = 3.5;

function screenDefinition(screen: PlanFile['screen']): ScreenDefinition | null {
  if (screen === undefined || screen === null) return null;
  return { method: screen.method, cutoff: screen.cutoff ?? CUTOFF, exclude: screen.exclude ?? false };
}
