/** Sizes within the sentences of a diagnosis, and the sentences in the units that a person has chosen. */
import { describe, expect, it } from 'vitest';
import { markedAgain, markFigure, readFigures, withFigures } from '../../shared-math/diagnosis/figures.ts';
import type { Diagnosis, Figure } from '../../shared-math/diagnosis/findings.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import type { Units } from '../../src-renderer/format/format.ts';
import { figureText, findingsInUnits, inUnits } from '../../src-renderer/format/sentence.ts';
import { causeRows, causesSheet } from '../../src-renderer/views/causes/rows.ts';
import { samplePath } from '../support/disc-files.ts';

const mm: Units = { length: 'mm', rotation: 'degree' };
const inches: Units = { length: 'inch', rotation: 'mrad' };
const fine: Units = { length: 'µm', rotation: 'arc-second' };

const shift: Figure = { kind: 'length', values: [0.0243], signed: false, text: '24 µm' };
const range: Figure = { kind: 'length', values: [0.0204, 0.0286], signed: false, text: '20 to 29 µm' };
const turn: Figure = { kind: 'rotation', values: [-Math.PI / 64_800], signed: true, text: '−10″' };

describe('figures of a text', () => {
  const marked = `moves by ${markFigure(shift)} (${markFigure(range)}), ${markFigure(turn)} of tool 24 µm.`;
  const said = readFigures(marked);

  it('stand beside it, and the text is what it was', () => {
    expect(said.text).toBe('moves by 24 µm (20 to 29 µm), −10″ of tool 24 µm.');
    expect(said.figures).toEqual([shift, range, turn]);
  });

  it('can go back into it', () => {
    expect(markedAgain(said.text, said.figures)).toBe(marked);
  });

  it('are written anew where they stand; nothing else of the text is', () => {
    expect(inUnits(said.text, said.figures, mm)).toBe(
      'moves by 0.0243 mm (0.0204 to 0.0286 mm), −0.0028° of tool 24 µm.',
    );
    expect(inUnits(said.text, said.figures, inches)).toBe(
      'moves by 0.000957 in (0.000803 to 0.001126 in), −0.0485 mrad of tool 24 µm.',
    );
  });

  it('of a text that does not hold them change nothing', () => {
    expect(withFigures('no size here', [shift], () => '!')).toBe('no size here');
    expect(inUnits('by 24 µm', undefined, mm)).toBe('by 24 µm');
  });
});

/** Value of a size as its text says it, mm or rad, and half a unit of its last digit. */
function readBack(text: string): readonly { readonly value: number; readonly half: number }[] {
  const unit = text.endsWith('″') ? Math.PI / 648_000 : 1e-3;
  return [...text.matchAll(/[+−-]?\d+(\.\d+)?/g)].map(([digits, decimals]) => ({
    value: Number(digits.replace('−', '-')) * unit,
    half: (decimals === undefined ? 0.5 : 0.05) * unit * (1 + 1e-9),
  }));
}

function textsOf(d: Diagnosis): readonly (readonly [string, readonly Figure[] | undefined])[] {
  return [
    ...d.sentences.map((text, i) => [text, d.sentenceFigures?.[i]] as const),
    ...[...d.components, ...d.corrections, d.budget].map((x) => [x.sentence, x.figures] as const),
    ...d.outliers.map((x) => [x.words, x.figures] as const),
  ];
}

describe.each(['conforming', 'drifting', 'off-centre'] as const)('the %s disc', async (folder) => {
  const { result } = await runReduction({
    pointsPath: samplePath(folder, 'points.csv'),
    planPath: samplePath(folder, 'plan.json'),
    weldsPath: samplePath(folder, 'welds.csv'),
  });
  const diagnosis = result.diagnosis!;
  const texts = textsOf(diagnosis);

  it('says every size of a sentence as a figure, with the value that the text rounds', () => {
    const figures = texts.flatMap(([, all]) => all ?? []);
    expect(figures.length).toBeGreaterThan(30);
    for (const { text, values } of figures) {
      const read = readBack(text);
      expect(read.length, text).toBe(values.length);
      read.forEach(({ value, half }, i) => {
        expect(Math.abs(value - values[i]!), text).toBeLessThanOrEqual(half);
      });
    }
  });

  it('speaks in no units but those chosen', () => {
    for (const [text, figures] of texts) {
      expect(inUnits(text, figures, mm)).not.toMatch(/µm|″/);
      expect(inUnits(text, figures, inches)).not.toMatch(/µm|″| mm/);
    }
    expect(findingsInUnits(diagnosis, inches).join(' ')).toMatch(/0\.\d{6} in/);
    const sheet = causesSheet(causeRows(diagnosis), mm);
    expect(sheet.rows.map((row) => row.at(-1)).join(' ')).toMatch(/0\.\d{4} mm/);
    expect(sheet.rows.map((row) => row.at(-1)).join(' ')).not.toMatch(/µm|″/);
  });

  it('says the same in µm and arc-seconds, with one digit more', () => {
    for (const [text, figures = []] of texts) {
      const shown = inUnits(text, figures, fine);
      for (const figure of figures) expect(shown).toContain(figureText(figure, fine));
    }
  });
});
