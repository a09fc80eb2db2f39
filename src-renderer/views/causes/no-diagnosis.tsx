import { whyNotDiagnosed } from '../../../shared-math/diagnosis/diagnose.ts';
import { sentenceOf } from '../../../shared-math/notes/english.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';

/** Why the causes of this disc were not examined, and what would let them be. */
export function NoDiagnosis({ disc }: { readonly disc: ReducedDisc }) {
  const { stations, summary } = disc.result;
  const why = whyNotDiagnosed(stations, null);
  const partly = stations.filter((station) => station.unobservable.length > 0);
  return (
    <section className="no-diagnosis panel" aria-label="Causes">
      <h2>The causes were not examined</h2>
      {why !== null && <p>{sentenceOf(why)}</p>}
      <ul>
        {partly.map(({ station, unobservable }) => (
          <li key={station}>
            Station {station}: {unobservable.map(({ reason }) => reason).join(' ')}
          </li>
        ))}
        {summary.missing.map(({ station, reason }) => (
          <li key={station}>
            Station {station}: {reason}
          </li>
        ))}
      </ul>
      <p>Measure more stations, or on each blade features that fix all six of its freedoms.</p>
    </section>
  );
}
