import type { ResultDocument } from '../../../shared-math/result.ts';
import { exportNumber, formatValue, plainUnit, type Units, unitSymbol } from '../../format/format.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';

/** Rows of the file that were left out, and points that a robust screen flagged. */
export function LeftOut({ result, units }: { readonly result: ResultDocument; readonly units: Units }) {
  const { screened, source } = result;
  const { excluded, name } = source.points;
  return (
    <>
      {excluded.length > 0 && (
        <>
          <p className="table-tools">
            <SheetTools sheet={excludedSheet(result)} fileName="left-out" of="the points left out" />
          </p>
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
        </>
      )}
      {screened.length > 0 && (
        <>
          <h3>Flagged by the robust screen</h3>
          <p className="table-tools">
            <SheetTools sheet={screenedSheet(result, units)} fileName="flagged" of="the flagged points" />
          </p>
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

function excludedSheet({ source }: ResultDocument): Sheet {
  return {
    head: ['line', 'reason'],
    rows: source.points.excluded.map(({ line, reason }) => [String(line), reason]),
  };
}

function screenedSheet({ screened }: ResultDocument, units: Units): Sheet {
  return {
    head: ['station', 'feature', 'point', `distance (${plainUnit('length', units)})`, 'state'],
    rows: screened.map(({ station, feature, point, distance, excluded }) => [
      station === null ? 'hub' : String(station),
      feature,
      String(point),
      exportNumber(distance, 'size', units),
      excluded ? 'left out' : 'only reported',
    ]),
  };
}
