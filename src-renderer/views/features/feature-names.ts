/** The datum features that a plan asks for, as a person chooses among them. */
import type { Association, Datum, FeatureType, PartDefinition } from '../../../shared-math/definition.ts';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import type { FeatureReport, ResultDocument } from '../../../shared-math/result.ts';
import type { FeaturePoints } from '../../../src-main/api.ts';
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

export interface AxisNames {
  readonly u: string;
  readonly v: string;
  readonly direction: string;
}

/** Cosine of about 1°: nearer than that an axis is called by the name of the frame's. */
const ALONG = 0.9998;

/**
 * Names of the axes of a feature, u, v and its direction: those of the blade frame, or of the disc frame for the hub, with the
 * sense in which they run; `s`, `t` and `axis` where the feature lies askew in it.
 */
export function featureAxisNames(
  { station, axes }: Pick<FeaturePoints, 'station' | 'axes'>,
  { stations }: Pick<ResultDocument, 'stations'>,
): AxisNames {
  const frame =
    station === null ? IDENTITY : stations.find((entry) => entry.station === station)?.nominal.axes;
  const names = station === null ? ['X', 'Y', 'Z'] : ['oscillation', 'lateral', 'upset'];
  const nameOf = (axis: Vec3, other: string): string => {
    const cosines = (frame ?? []).map((row) => row[0] * axis[0] + row[1] * axis[1] + row[2] * axis[2]);
    const at = cosines.findIndex((cosine) => Math.abs(cosine) > ALONG);
    return at < 0 ? other : `${(cosines[at] ?? 0) < 0 ? '−' : '+'}${names[at]}`;
  };
  return { u: nameOf(axes.u, 's'), v: nameOf(axes.v, 't'), direction: nameOf(axes.normal, 'axis') };
}

const IDENTITY: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
