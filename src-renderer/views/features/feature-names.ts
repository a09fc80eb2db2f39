/** The datum features that a plan asks for, as a person chooses among them. */
import type { Association, Datum, FeatureType, PartDefinition } from '../../../shared-math/definition.ts';
import type { FeatureReport, ResultDocument } from '../../../shared-math/result.ts';
import { type FeatureName, sameFeature } from '../../state/exclusions.ts';

export interface PlannedFeature extends FeatureName {
  /** Datum letter. */
  readonly label: string;
  readonly type: FeatureType | 'pattern';
}

function featuresOf(datums: readonly Datum[], station: number | null): readonly PlannedFeature[] {
  return datums.flatMap(({ label, features, type }) =>
    features.map((feature) => ({ station, feature, label, type })),
  );
}

/** Features of the hub, or those that every blade has. */
export function plannedFeatures(
  { hubDatums, bladeDatums }: PartDefinition,
  station: number | null,
): readonly PlannedFeature[] {
  return featuresOf(station === null ? hubDatums : bladeDatums, station);
}

/** The report of the datum that a feature belongs to; null where the station was not reduced. */
export function reportOf(
  { frame, stations }: ResultDocument,
  { station, label }: PlannedFeature,
): FeatureReport | null {
  const reports =
    station === null ? frame.datums : (stations.find((entry) => entry.station === station)?.features ?? []);
  return reports.find((report) => report.label === label) ?? null;
}

/**
 * What is on view: the chosen feature, moved to the selected station where it is one of a blade; the first feature
 * of the station where nothing was chosen or the plan has it no more.
 */
export function featureOnView(
  definition: PartDefinition,
  station: number | null,
  chosen: { readonly hub: boolean; readonly feature: string } | null,
): PlannedFeature | null {
  const blade = station === null ? [] : plannedFeatures(definition, station);
  const hub = plannedFeatures(definition, null);
  const wanted =
    chosen === null
      ? undefined
      : (chosen.hub ? hub : blade).find((entry) =>
          sameFeature(entry, { station: chosen.hub ? null : station, feature: chosen.feature }),
        );
  return wanted ?? blade[0] ?? hub[0] ?? null;
}

/** Criterion by which the substitute feature was fitted; null for a feature that the plan does not use. */
export function associationOf(
  { hubDatums, bladeDatums }: PartDefinition,
  { station, feature }: FeatureName,
): Association | null {
  const datum = (station === null ? hubDatums : bladeDatums).find(({ features }) =>
    features.includes(feature),
  );
  if (datum === undefined) return null;
  return datum.type === 'pattern' ? (datum.members[0]?.association ?? null) : datum.association;
}
