import type { PlanDatumDetails, PlanDetails } from '../api.ts';
import { allFeaturesOf } from './plan-features.ts';
import type { PlanDatum, PlanFile } from './plan-schema.ts';

/** What a report states of a plan beyond its summary. */
export function planDetails(plan: PlanFile): PlanDetails {
  const { disc, blade, temperature, uncertainty } = plan;
  return {
    hubDatums: disc.datums.map((datum) => datumDetails(datum, plan)),
    bladeDatums: blade.datums.map((datum) => datumDetails(datum, plan)),
    seat: blade.seat,
    explicitAngles: Array.isArray(disc.angles),
    overridden: Object.keys(plan.overrides ?? {})
      .map(Number)
      .sort((a, b) => a - b),
    temperature:
      temperature === undefined
        ? null
        : {
            applied: temperature.applied,
            part: temperature.part ?? null,
            expansion: temperature.expansion ?? null,
            uPart: temperature.uPart ?? 0,
            uExpansion: temperature.uExpansion ?? 0,
          },
    uncertainty: {
      probing: uncertainty?.probing ?? null,
      scale: uncertainty?.scale ?? 0,
      formCorrelation: uncertainty?.formCorrelation ?? 0,
    },
    characteristics: (plan.characteristics ?? []).map(({ number, reference, quantity, requirement }) => ({
      number: String(number),
      reference: String(reference ?? ''),
      quantity: String(quantity ?? ''),
      requirement: String(requirement ?? ''),
    })),
  };
}

/** A pattern is fitted by least squares and is not screened, whatever the plan says for the others. */
function datumDetails(datum: PlanDatum, plan: PlanFile): PlanDatumDetails {
  const { label, type } = datum;
  const pattern = type === 'pattern';
  const screen = datum.screen === undefined ? plan.screen : datum.screen;
  return {
    label,
    features: allFeaturesOf(datum),
    type,
    association: pattern ? 'gaussian' : (datum.association ?? plan.association ?? 'gaussian'),
    weights: datum.weights ?? plan.weights ?? 'equal',
    screenExcludes: !pattern && screen?.exclude === true,
  };
}
