import type { PlanSummary } from '../api.ts';
import { planDetails } from './plan-details.ts';
import { allFeaturesOf } from './plan-features.ts';
import type { PlanDatum, PlanFile } from './plan-schema.ts';
import { stationAngle } from './to-definition.ts';

/** Facts of a plan that views show beside the result. */
export function summarise(plan: PlanFile): PlanSummary {
  const { disc, blade } = plan;
  return {
    title: plan.title ?? '',
    part: filled(plan.part),
    inspection: filled(plan.inspection),
    pose: blade.pose ?? 'datum',
    sense: disc.sense ?? 'counterclockwise',
    stations: Array.from({ length: disc.stations }, (_, index) => ({
      station: index + 1,
      angle: stationAngle(plan, index + 1),
    })),
    tolerance: blade.position.tolerance,
    zone: blade.position.zone,
    limits: numbers(blade.limits),
    hubDatums: disc.datums.map(datumText),
    bladeDatums: blade.datums.map(datumText),
    details: planDetails(plan),
  };
}

function datumText(datum: PlanDatum): string {
  return `${datum.label} ${allFeaturesOf(datum).join(' and ')} (${datum.type})`;
}

function filled(block: Readonly<Record<string, string | undefined>> | undefined): Record<string, string> {
  return Object.fromEntries(
    Object.entries(block ?? {}).filter((entry): entry is [string, string] => Boolean(entry[1])),
  );
}

function numbers(block: Readonly<Record<string, number | undefined>> | undefined): Record<string, number> {
  return Object.fromEntries(
    Object.entries(block ?? {}).filter((entry): entry is [string, number] => entry[1] !== undefined),
  );
}
