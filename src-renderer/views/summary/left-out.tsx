import type { ResultDocument } from '../../../shared-math/result.ts';
import { formatValue, type Units, unitSymbol } from '../../format/format.ts';

/** Rows of the file that were left out, and points that a robust screen flagged. */
export function LeftOut({ result, units }: { readonly result: ResultDocument; readonly units: Units }) {
  const { screened, source } = result;
  const { excluded, name } = source.points;
  return (
    <>
      {excluded.length > 0 && (
        <table className="list-table">
          <thead>
            <tr>
              <th scope="col">line of {name}</th>
              <th scope="col">reason</th>
            </tr>
          </thead>
          <tbody>
            {excluded.map(({ line, reason }) => (
              <tr key={`${line} ${reason}`}>
                <td>{line}</td>
                <td>{reason}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {screened.length > 0 && (
        <>
          <h3>Flagged by the robust screen</h3>
          <table className="list-table">
            <thead>
              <tr>
                <th scope="col">station</th>
                <th scope="col">feature</th>
                <th scope="col" title="In the order of the file, within the feature">
                  point
                </th>
                <th scope="col" className="number" title="From the feature without the flagged points">
                  distance, {unitSymbol('length', units)}
                </th>
                <th scope="col" />
              </tr>
            </thead>
            <tbody>
              {screened.map(({ station, feature, point, distance, excluded: out }) => (
                <tr key={`${station} ${feature} ${point}`}>
                  <td>{station ?? 'hub'}</td>
                  <td>{feature}</td>
                  <td>{point}</td>
                  <td className="number">{formatValue(distance, 'size', units)}</td>
                  <td>{out ? 'left out' : 'only reported'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </>
  );
}
