/** A path of the plan, and what is wrong there, in the words of the editor instead of those of the file. */
import type { Problem } from '../../../src-main/api.ts';
import { type Draft, parsePath, textAt } from './draft.ts';
import { allFields } from './fields.ts';
import { sectionOf, sections } from './sections.ts';

const labels = new Map(allFields.map(({ path, label }) => [path, label]));

const keyWords: Readonly<Record<string, string>> = {
  nominal: '',
  point: 'place',
  at: 'place',
  feature: 'feature in the point file',
  features: 'features in the point file',
  radius: 'radius',
  halfAngle: 'half angle',
  direction: 'direction',
  label: 'letter',
  members: 'members',
  datums: 'datums',
  checkPoints: 'check points',
  angles: 'list of angles',
};

const axes = { disc: ['X', 'Y', 'Z'], blade: ['o', 'l', 'u'] } as const;

/** `Hub datum C, place X` for `disc.datums[2].nominal.point[0]`. */
export function placeWords(path: string, draft: Draft): string {
  const known = labels.get(path);
  const section = sections.find(({ id }) => id === sectionOf(path))?.title ?? 'Plan';
  if (known !== undefined) return section === known ? known : `${section}: ${known.toLowerCase()}`;
  const steps = parsePath(path);
  const [owner, list, index, ...rest] = steps;
  const words = (tail: readonly (string | number)[]): string =>
    tail
      .map((step, at) => {
        const before = tail[at - 1];
        if (typeof step === 'number')
          return before === 'point' || before === 'direction' || before === 'at'
            ? (axes[owner === 'disc' ? 'disc' : 'blade'][step] ?? '')
            : String(step + 1);
        return keyWords[step] ?? step;
      })
      .filter((word) => word !== '')
      .join(' ');
  if (list === 'datums' && typeof index === 'number') {
    const letter = textAt(draft, [String(owner), 'datums', index, 'label']) || String(index + 1);
    return [`${owner === 'disc' ? 'Hub' : 'Blade'} datum ${letter}`, words(rest)]
      .filter((part) => part !== '')
      .join(', ');
  }
  if (list === 'position' && index === 'checkPoints' && typeof rest[0] === 'number') {
    const name = textAt(draft, ['blade', 'position', 'checkPoints', rest[0], 'name']) || String(rest[0] + 1);
    return [`Check point ${name}`, words(rest.slice(1))].filter((part) => part !== '').join(', ');
  }
  if (owner === 'overrides' && list !== undefined) return `Station ${list}, ${words(steps.slice(2))}`;
  return steps.length < 2 || list === 'datums' ? section : `${section}: ${words(steps.slice(1))}`;
}

/** What is wrong at that place. Most of what a new plan has to hear is that something is still needed. */
export function faultWords({ code, message, path, value, expected }: Problem): string {
  const isLacking = code === 'missing-key' || code === 'too-short' || value === 'null' || value === '[]';
  if (isLacking && expected !== undefined)
    return `Needed: ${expected === 'a block in braces' ? 'its values' : expected}.`;
  // A field holds text only where what was typed is no number; quotes are of no concern there.
  if (expected?.startsWith('a number') && value !== undefined && Number.isNaN(Number(value)))
    return `“${value}” is not a number.`;
  const start = `plan, ${path ?? ''}: `;
  const plain = message.replace(/^plan, line \d+(?:, [^:]*)?: /, '');
  const text = plain.startsWith(start) ? plain.slice(start.length) : plain;
  return text.charAt(0).toUpperCase() + text.slice(1);
}
