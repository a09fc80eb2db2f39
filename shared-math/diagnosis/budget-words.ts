/** The budget in one or two plain sentences, its sizes marked as figures (figures.ts). */
import { markFigure } from './figures.ts';
import type { BudgetFinding, BudgetLine } from './findings.ts';

/** @param planned whether the plan has a budget at all. */
export function budgetSentence(finding: Omit<BudgetFinding, 'sentence'>, planned: boolean): string {
  const { tolerance, found, left, lines } = finding;
  const using = lines.filter((line) => line.counted && (line.found?.value ?? 0) > 0);
  const whole =
    using.length < 2
      ? `Of the position tolerance of ${micrometres(tolerance)} ${using[0] === undefined || using[0].name === 'scatter' ? 'scatter alone' : named(using[0])} uses ${micrometres(found.worstCase)}; ${left.worstCase >= 0 ? `${micrometres(left.worstCase)} are left` : `it overspends it by ${micrometres(-left.worstCase)}`}.`
      : `Of the position tolerance of ${micrometres(tolerance)} the causes found and scatter use ` +
        `${micrometres(found.rootSumSquare)} by root sum of squares and ${micrometres(found.worstCase)} in the worst case; ` +
        (left.worstCase >= 0
          ? `${micrometres(left.worstCase)} are left even then.`
          : left.rootSumSquare >= 0
            ? `${micrometres(left.rootSumSquare)} are left by root sum of squares, and the worst case overspends it by ${micrometres(-left.worstCase)}.`
            : `both overspend it, by ${micrometres(-left.rootSumSquare)} and ${micrometres(-left.worstCase)}.`);
  if (!planned)
    return [whole, 'The plan allocates nothing to single causes.', otherBooking(lines)].join(' ').trim();
  const over = lines.filter(({ state }) => state === 'over').map(lineWords);
  const open = lines.filter(({ state }) => state === 'undecided').map(named);
  const judged = lines.filter(({ state }) => state !== 'unknown');
  return [
    whole,
    over.length > 0 ? `Overspent: ${over.join('; ')}.` : '',
    open.length > 0 ? `Too uncertain to tell: ${open.join(', ')}.` : '',
    judged.length > 0 && over.length + open.length === 0
      ? 'Every line that was examined keeps within its allocation.'
      : '',
    otherBooking(lines),
  ]
    .filter((part) => part !== '')
    .join(' ');
}

/** What the common offset does to the lines of hub and tool, by either reading. */
function otherBooking(lines: readonly BudgetLine[]): string {
  const [frame, tool] = ['frame', 'toolSetup'].map((name) => lines.find((line) => line.name === name));
  if (!frame?.otherwise?.found || !tool?.otherwise?.found || !frame.found) return '';
  return (
    `The common axial and clocking offset is booked on the hub frame (${micrometres(frame.found.value)}); if it is the tool’s, the hub frame uses ` +
    `${micrometres(frame.otherwise.found.value)} and the tool set-up ${micrometres(tool.otherwise.found.value)} instead of ${micrometres(tool.found?.value ?? 0)}.`
  );
}

function lineWords(line: BudgetLine): string {
  return `${named(line)}, ${micrometres(line.found!.value)} of ${micrometres(line.allocated!)}`;
}

/** The title as it stands within a sentence; names that the user gave stay as they are. */
function named({ title, components }: BudgetLine): string {
  return components.length === 0 ? title : title.charAt(0).toLowerCase() + title.slice(1);
}

function micrometres(value: number): string {
  const text = `${(1000 * value).toFixed(value !== 0 && Math.abs(value) < 0.001 ? 1 : 0)} µm`;
  return markFigure({ kind: 'length', values: [value], signed: false, text });
}
