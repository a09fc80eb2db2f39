/** The parts of the editor, in the order in which a plan is made, and which paths each one holds. */

export interface Section {
  readonly id: string;
  readonly title: string;
  /** A path that begins like one of these belongs here; the longest beginning wins. */
  readonly paths: readonly string[];
}

export const sections: readonly Section[] = [
  { id: 'start', title: 'Starting points', paths: [] },
  { id: 'identity', title: 'Part and inspection', paths: ['title', 'part', 'inspection', 'format', 'units'] },
  { id: 'disc', title: 'Disc and stations', paths: ['disc'] },
  { id: 'hub', title: 'Hub datums', paths: ['disc.datums'] },
  { id: 'seat', title: 'Blade seat', paths: ['blade', 'blade.seat'] },
  { id: 'blade', title: 'Blade datums', paths: ['blade.datums', 'blade.pose'] },
  { id: 'position', title: 'Position', paths: ['blade.position'] },
  { id: 'limits', title: 'Limits', paths: ['blade.limits'] },
  { id: 'stations', title: 'Single stations', paths: ['overrides', 'disc.angles'] },
  {
    id: 'measurement',
    title: 'Uncertainty and decision',
    paths: ['uncertainty', 'decision', 'temperature', 'association', 'weights', 'screen'],
  },
  { id: 'budget', title: 'Budget and settings', paths: ['budget', 'adjustments'] },
  { id: 'characteristics', title: 'Characteristics', paths: ['characteristics'] },
  { id: 'text', title: 'Plan as text', paths: ['import', ''] },
];

export function sectionOf(path: string): string {
  let best = 'text';
  let length = -1;
  for (const { id, paths } of sections)
    for (const start of paths)
      if (
        start.length > length &&
        (start === '' ||
          path === start ||
          (path.startsWith(start) && '.['.includes(path[start.length] ?? '')))
      ) {
        best = id;
        length = start.length;
      }
  return best;
}
