/** What is wrong with a row of a point file, in German. Examples keep the decimal sign of the file. */
import type { DecimalSign, Phrasebook } from '../../../../shared-math/notes/notes.ts';

const example = (decimal: DecimalSign): string => (decimal === '.' ? '12.345' : '12,345');
const signName = (decimal: DecimalSign): string => (decimal === ',' ? 'Dezimalkomma' : 'Dezimalpunkt');
const otherSign = (decimal: DecimalSign): DecimalSign => (decimal === '.' ? ',' : '.');
const number = (decimal: DecimalSign): string => `eine Zahl wie ${example(decimal)}`;

const WANTED = {
  normal: 'eine Flächennormale wie bei den anderen Punkten dieses Elements',
  'no-normal': 'keine Flächennormale, wie bei den anderen Punkten dieses Elements',
  value: 'ein Wert wie bei den anderen Punkten dieses Elements',
  'empty-cell': 'eine leere Zelle wie bei den anderen Punkten dieses Elements',
} as const;

export const deRowFaults: Phrasebook['rowFaults'] = {
  'empty-cell': ({ decimal }) => ({
    says: 'die Zelle ist leer',
    expected: number(decimal),
    remedy: 'ausfüllen oder die Zeile entfernen',
  }),
  'no-finite-number': ({ decimal }) => ({
    says: 'dies ist keine endliche Zahl',
    expected: `eine endliche Zahl wie ${example(decimal)}`,
    remedy: 'den Punkt neu messen oder die Zeile entfernen',
  }),
  'number-too-large': ({ decimal }) => ({
    says: 'diese Zahl ist zu groß',
    expected: `eine endliche Zahl wie ${example(decimal)}`,
    remedy: 'die Zelle berichtigen',
  }),
  'other-decimal-sign': ({ decimal, fromPlan }) => ({
    says: `${signName(otherSign(decimal))} gefunden, wo ${fromPlan ? 'laut Prüfplan' : 'im Rest der Datei'} ein ${signName(decimal)} steht`,
    expected: number(decimal),
    remedy: fromPlan
      ? `die Zahl mit dem anderen Zeichen schreiben oder import.decimal auf "${otherSign(decimal)}" setzen`
      : 'alle Zahlen mit demselben Zeichen schreiben',
  }),
  'grouped-number': ({ decimal }) => ({
    says: 'die Zahl hat Tausendertrennzeichen oder mehr als ein Dezimalzeichen',
    expected: `${number(decimal)} ohne Gruppierung`,
    remedy: 'ohne Tausendertrennzeichen exportieren',
  }),
  'dash-for-minus': ({ decimal }) => ({
    says: 'das Minuszeichen ist ein Gedankenstrich',
    expected: `eine Zahl wie -${example(decimal)}`,
    remedy: 'das gewöhnliche Minuszeichen verwenden',
  }),
  'no-number': ({ decimal }) => ({
    says: 'dies ist keine Zahl',
    expected: number(decimal),
    remedy: 'die Zelle berichtigen oder die Zeile entfernen',
  }),
  'no-unit-normal': ({ length }, { brief }) => ({
    says: 'i, j, k sind keine Einheitsnormale',
    found: `Länge ${brief(length)}`,
    expected: 'Länge 1 auf 1 % genau',
    remedy: 'Einheitsnormalen exportieren oder i, j, k weglassen',
  }),
  'points-differ': ({ wanted }) => ({
    says: 'die Punkte eines Elements unterscheiden sich in ihren Angaben',
    expected: WANTED[wanted],
    remedy: 'die Zelle für alle Punkte des Elements ausfüllen oder für keinen',
  }),
  'temperature-range': ({ coldest, hottest }) => ({
    says: 'bei dieser Temperatur wird kein Teil gemessen',
    expected: `eine Teiletemperatur von ${coldest} bis ${hottest} °C`,
    remedy: 'die Zelle berichtigen, oder die Spalte weglassen und temperature.part im Prüfplan angeben',
  }),
  'negative-radius': () => ({
    says: 'ein Taster hat keinen negativen Radius',
    expected: 'eine Zahl nicht unter 0',
    remedy: 'die Zelle berichtigen oder die Spalte weglassen',
  }),
  'sigma-not-positive': () => ({
    says: 'eine Standardunsicherheit ist positiv',
    expected: 'eine Zahl über 0',
    remedy: 'die Zelle berichtigen oder die Spalte weglassen',
  }),
  'row-too-short': ({ cells, of }) => ({
    says: `die Zeile endet nach ${cells} ${cells === 1 ? 'Zelle' : 'Zellen'}`,
    expected: `${of} Zellen`,
    remedy: 'die Zeile vervollständigen oder entfernen',
  }),
  'row-too-long': ({ cells, of }) => ({
    says: `die Zeile hat ${cells} Zellen`,
    expected: `${of} Zellen`,
    remedy:
      'nach einem Dezimalkomma oder einem Text suchen, der das Trennzeichen enthält, und solchen Text in Anführungszeichen setzen',
  }),
};
