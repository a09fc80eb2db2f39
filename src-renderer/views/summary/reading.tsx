import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatCount, formatValue, type Units, unitWord } from '../../format/format.ts';

/** How the files were understood: the import, line by line, and the hub datums with their fits. */
export function Reading({ disc, units }: { readonly disc: ReducedDisc; readonly units: Units }) {
  const { import: taken, result, plan } = disc;
  const fromPlan = (key: string): string => (taken.fromPlan.includes(key) ? ' (from the plan)' : '');
  const lines: readonly (readonly [string, string])[] = [
    ['Encoding', taken.encoding + fromPlan('encoding')],
    ['Delimiter', (taken.delimiter === '\t' ? 'tab' : taken.delimiter) + fromPlan('delimiter')],
    ['Decimal sign', taken.decimal + fromPlan('decimal')],
    ['Length unit', taken.unit + fromPlan('unit')],
    ['Header', taken.header ? 'yes' : 'no'],
    [
      'Columns',
      Object.entries(taken.columns)
        .map(([role, name]) => (role === name ? role : `${role} = ${name}`))
        .join(', ') + fromPlan('columns'),
    ],
    ...(taken.label === null ? [] : [['Label pattern', taken.label + fromPlan('label')] as const]),
    ['Pose', plan.pose === 'datum' ? 'from the blade datums, by precedence' : 'best fit of all blade points'],
    ['Numbering', plan.sense],
  ];
  return (
    <>
      <p className="reading-sentence">{taken.sentence}</p>
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
      <h3>Hub datums, lengths in {unitWord('length', units)}</h3>
      <table className="list-table">
        <thead>
          <tr>
            <th scope="col">datum</th>
            <th scope="col">points</th>
            <th scope="col">form</th>
            <th scope="col">r.m.s.</th>
            <th scope="col">fixes</th>
          </tr>
        </thead>
        <tbody>
          {result.frame.datums.map((datum) => (
            <tr key={datum.label}>
              <td>
                {datum.label} {datum.feature} ({datum.type})
              </td>
              <td>{formatCount(datum.points)}</td>
              <td>{formatValue(datum.form, 'size', units)}</td>
              <td>{formatValue(datum.rms, 'size', units)}</td>
              <td>{datum.fixes.join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
