import type { DecisionResult, ResultDocument } from '../../../shared-math/result.ts';
import { countOf, formatChosenProbability } from '../../format/format.ts';
import { quantityOf, settlements } from '../../format/quantities.ts';

/** The decision rule in few words. */
export function ruleWords({ rule, probability, factor }: DecisionResult): string {
  if (rule === 'simple') return 'value against limit';
  if (probability !== null) return `conformity proven at ${formatChosenProbability(probability)}`;
  return `guard band of ${factor} × U`;
}

/** What is known of the uncertainty of this disc, in few words. */
export function uncertaintyWords({ stations, decision }: ResultDocument): string {
  const without = stations.filter((station) => station.uncertainty === null).length;
  if (without === stations.length) return 'uncertainty not evaluated';
  const coverage = `uncertainty at ${formatChosenProbability(decision.coverage)} coverage`;
  return without === 0 ? coverage : `${coverage}; not evaluated for ${countOf(without, 'station')}`;
}

/** The rule, what producer and consumer risk under it, what U and P are, and what would settle the unproven stations. */
export function Decision({ result }: { readonly result: ResultDocument }) {
  const { decision, stations } = result;
  const coverage = formatChosenProbability(decision.coverage);
  const unproven = stations.filter((station) => station.verdict === 'unproven');
  const lines: readonly (readonly [string, string])[] = [
    ['Rule', `${decision.rule}: ${ruleWords(decision)}`],
    ['Risk', decision.risk],
    [
      'U',
      `Expanded uncertainty, coverage ${coverage}. Errors: half-width of the coverage interval. Position: its one-sided upper bound minus the value.`,
    ],
    [
      'P(conform)',
      'Probability that the true value keeps its limit; for position at all check points together.',
    ],
    ['Coverage', uncertaintyWords(result)],
    ['Unproven', unproven.length === 0 ? 'no station' : countOf(unproven.length, 'station')],
  ];
  return (
    <>
      <table className="list-table">
        <tbody>
          {lines.map(([title, text]) => (
            <tr key={title}>
              <th scope="row">{title}</th>
              <td>{text}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {unproven.some((station) => settlements(station).length > 0) && (
        <>
          <h3>What would settle it, at the same value (figures in µm and arc-seconds)</h3>
          <table className="list-table">
            <tbody>
              {unproven.flatMap((station) =>
                settlements(station).map(({ name, words }) => (
                  <tr key={`${station.station} ${name}`}>
                    <th scope="row">
                      station {station.station}, {quantityOf(name).title.toLowerCase()}
                    </th>
                    <td>{words}</td>
                  </tr>
                )),
              )}
            </tbody>
          </table>
        </>
      )}
    </>
  );
}
