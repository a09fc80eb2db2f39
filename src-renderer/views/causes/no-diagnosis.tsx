import type { ReducedDisc } from '../../../src-main/api.ts';
import { countOf } from '../../format/format.ts';

/** Why the causes of this disc were not examined, as far as the result tells. */
export function NoDiagnosis({ disc }: { readonly disc: ReducedDisc }) {
  const { stations } = disc.result;
  const unknown = stations.filter((station) => station.covariance === null);
  const reasons = [
    ...(stations.length < 3 ? [`Only ${countOf(stations.length, 'station')} could be reduced.`] : []),
    ...(unknown.length > 0
      ? [
          `Of ${countOf(unknown.length, 'station')} the uncertainty is not known, or an error is not observed: ${unknown
            .map((station) => station.station)
            .join(', ')}.`,
        ]
      : []),
  ];
  return (
    <section className="no-diagnosis panel" aria-label="Causes">
      <h2>The causes were not examined</h2>
      <p>
        Errors can be told from scatter only where enough stations were reduced and the uncertainty of each is
        known.
      </p>
      {reasons.length > 0 && (
        <ul>
          {reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
        </ul>
      )}
      <p>State the probing uncertainty in the plan, or measure more points on each feature.</p>
    </section>
  );
}
