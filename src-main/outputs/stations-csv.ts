/** `stations.csv`: one row a planned station, missing ones included. RFC 4180, units in the header, decimal points. */
import type { ResultDocument, StationResult } from '../../shared-math/result.ts';

type Cell = string | number | null;

const COLUMNS: readonly { readonly header: string; readonly of: (station: StationResult) => Cell }[] = [
  { header: 'station', of: (s) => s.station },
  { header: 'angle_deg', of: (s) => s.angle },
  { header: 'oscillation_mm', of: (s) => s.error.oscillation },
  { header: 'lateral_mm', of: (s) => s.error.lateral },
  { header: 'upset_mm', of: (s) => s.error.upset },
  { header: 'rotOscillation_rad', of: (s) => s.error.rotOscillation },
  { header: 'rotLateral_rad', of: (s) => s.error.rotLateral },
  { header: 'rotUpset_rad', of: (s) => s.error.rotUpset },
  { header: 'radial_mm', of: (s) => s.disc.radial },
  { header: 'tangential_mm', of: (s) => s.disc.tangential },
  { header: 'axial_mm', of: (s) => s.disc.axial },
  { header: 'lean_rad', of: (s) => s.disc.lean },
  { header: 'sweep_rad', of: (s) => s.disc.sweep },
  { header: 'stagger_rad', of: (s) => s.disc.stagger },
  { header: 'position_mm', of: (s) => s.position.value },
  { header: 'position_at', of: (s) => s.position.at },
  { header: 'tolerance_mm', of: (s) => s.position.tolerance },
  { header: 'verdict', of: (s) => s.verdict },
  {
    header: 'reason',
    of: (s) => s.unobservable.map(({ freedom, reason }) => `${freedom}: ${reason}`).join('; '),
  },
];

/** The table as text. Missing stations have the verdict `missing` and their reason in the last column. */
export function stationsCsv({ stations, summary }: ResultDocument): string {
  const rows: { readonly station: number; readonly cells: readonly Cell[] }[] = [
    ...stations.map((station) => ({
      station: station.station,
      cells: COLUMNS.map((column) => column.of(station)),
    })),
    ...summary.missing.map(({ station, angle, reason }) => ({
      station,
      cells: COLUMNS.map(({ header }): Cell => {
        if (header === 'station') return station;
        if (header === 'angle_deg') return angle;
        if (header === 'verdict') return 'missing';
        return header === 'reason' ? reason : null;
      }),
    })),
  ];
  rows.sort((a, b) => a.station - b.station);
  return [COLUMNS.map(({ header }) => header), ...rows.map(({ cells }) => cells)]
    .map((cells) => `${cells.map(quoted).join(',')}\r\n`)
    .join('');
}

function quoted(cell: Cell): string {
  const text = cell === null ? '' : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
