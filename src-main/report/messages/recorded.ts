/**
 * Sentences that the result records in English, in another language where they are of a known form. Others stay as they are.
 * Tests make each form with the code that writes it, so that a changed sentence does not go untranslated unnoticed.
 */
import type { NumberFormat } from '../format/numbers.ts';
import type { Messages } from './messages.ts';

/** What a datum fixed: `translation along …`, `rotation about …`. */
export function freedomIn({ freedoms: m }: Messages, words: string): string {
  const axis = (name: string): string =>
    Object.hasOwn(m.axes, name) ? m.axes[name as keyof typeof m.axes] : name;
  if (words === 'all three rotations') return m.allRotations;
  const tilt = /^the two rotations that tilt (.+)$/.exec(words)?.[1];
  if (tilt !== undefined) return m.tilt(axis(tilt));
  const along = /^translation along (.+)$/.exec(words)?.[1];
  if (along !== undefined) return m.translation(along.split(/, | and /).map(axis));
  const about = /^rotation about (.+)$/.exec(words)?.[1];
  return about === undefined ? words : m.rotation(axis(about));
}

/** What would settle an unproven value. */
export function settleIn({ settle: m }: Messages, f: NumberFormat, words: string): string {
  if (words.startsWith('The value lies at its limit')) return m.atLimit;
  const found =
    /^(Conformity|Non-conformity) would be proven at the same value with a standard uncertainty of (.+?) instead of (.+?); (.+)\.$/.exec(
      words,
    );
  if (found === null) return words;
  const [, what, needed = '', present = '', rest = ''] = found;
  const factor = /^about (.+) times as many points/.exec(rest)?.[1];
  if (factor === undefined && !rest.startsWith('more points on this blade cannot')) return words;
  const proven = m.proven(
    what === 'Conformity' ? m.conformity : m.nonconformity,
    f.rewrite(needed),
    f.rewrite(present),
  );
  return m.both(proven, factor === undefined ? m.hub : m.points(f.rewrite(factor)));
}

/** Why a row was left out, or a station is missing. */
export function reasonIn({ exclusions: { recorded: m } }: Messages, words: string): string {
  if (words === 'The file has no points of this station.') return m.noPoints;
  const absent =
    /^Station (\d+) has no points of feature (.+) \(datum (.+)\)\. Measure the feature, or correct its name in the file or in the plan\.$/s.exec(
      words,
    );
  if (absent !== null) return m.noFeature(absent[1] ?? '', absent[2] ?? '', absent[3] ?? '');
  const byHand = /^excluded by hand: (.+)$/s.exec(words)?.[1];
  if (byHand !== undefined) return m.byHand(byHand);
  const feature =
    /^(hub|blade) feature "(.*)" is not in the plan \((it has|did you mean) "?(.*?)"?\??\)$/s.exec(words);
  if (feature !== null) {
    const [, owner, name = '', how, others = ''] = feature;
    const says = owner === 'hub' ? m.hubFeature(name) : m.bladeFeature(name);
    return `${says} (${how === 'it has' ? m.has(others) : m.near(others)})`;
  }
  const station = /^station "(.*)" is not in the plan \(stations 1 to (\d+)\)$/s.exec(words);
  return station === null ? words : m.station(station[1] ?? '', station[2] ?? '');
}
