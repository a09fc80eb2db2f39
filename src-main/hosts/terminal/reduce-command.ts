/** `hubtrue reduce`: table or document on standard output, everything else on standard error. */
import pc from 'picocolors';
import type { ReducedDisc } from '../../api.ts';
import { problemsOf } from '../../jobs/problems-of.ts';
import { runReduction } from '../../jobs/run-reduction.ts';
import {
  checkOutputFolder,
  type OutputFile,
  outputFiles,
  reportFiles,
  resultJson,
  writeOutputs,
} from '../../outputs/write-outputs.ts';
import { Cancelled, throwIfCancelled } from '../../problems.ts';
import type { ReduceArguments } from './arguments.ts';
import type { Console } from './console.ts';
import { patternLine, screenedLine } from './pattern-line.ts';
import { usualReport } from './report-arguments.ts';
import { decisionLine, type Paint, settleLines, stationTable, summaryLine } from './station-table.ts';

/** Exit status of a process that the person interrupted, by the custom of shells: 128 + SIGINT. */
const INTERRUPTED = 130;

/** Reduces and reports; returns the exit status. */
export function reduceCommand(args: ReduceArguments, console: Console, signal: AbortSignal): Promise<number> {
  return runAndReport(args, console, signal, report);
}

/**
 * Reduces and diagnoses, writes the outputs that were asked for and hands the disc to `tell`.
 *
 * @returns the exit status: 0 all conforms, 1 not all does, 2 refused (with the reasons on standard error).
 */
export async function runAndReport(
  args: ReduceArguments,
  console: Console,
  signal: AbortSignal,
  tell: (args: ReduceArguments, disc: ReducedDisc, console: Console) => void,
): Promise<number> {
  try {
    if (args.out !== undefined) checkOutputFolder(args.out);
    const disc = await runReduction(
      {
        pointsPath: args.points,
        planPath: args.plan,
        ...(args.welds === undefined ? {} : { weldsPath: args.welds }),
      },
      {
        signal,
        onProgress: ({ fraction, note }) => console.progress(`${Math.round(100 * fraction)} %  ${note}`),
      },
    );
    // Lets an interrupt be heard that came during the calculation.
    await new Promise(setImmediate);
    throwIfCancelled(signal);
    const files = args.out === undefined ? [] : await filesOf(args, disc);
    throwIfCancelled(signal);
    if (args.out !== undefined) writeOutputs(args.out, files);
    tell(args, disc, console);
    if (args.out !== undefined)
      console.error(`Written to ${args.out}: ${files.map(({ name }) => name).join(', ')}.`);
    const { summary, pattern } = disc.result;
    const conforms =
      summary.conforming === summary.stations && (pattern === null || pattern.verdict === 'conforming');
    return conforms ? 0 : 1;
  } catch (error) {
    console.clearProgress();
    if (error instanceof Cancelled) {
      console.error('Cancelled; nothing was written.');
      return INTERRUPTED;
    }
    for (const { message } of problemsOf(error)) console.error(message);
    return 2;
  }
}

/** The writers of the report are loaded only where there is one to write. */
async function filesOf(
  { length, report: asked = usualReport }: ReduceArguments,
  { result, plan, welds }: ReducedDisc,
): Promise<readonly OutputFile[]> {
  const { report: makeReport } = await import('../../report/index.ts');
  const { language, paper, time = new Date() } = asked;
  const made = await makeReport({ result, plan, welds, language, paper, length, time });
  return [...outputFiles(result), ...reportFiles(made)];
}

function report(args: ReduceArguments, disc: ReducedDisc, console: Console): void {
  const { result } = disc;
  console.clearProgress();
  console.error(`${result.source.points.name}: ${disc.import.sentence}`);
  if (args.json) console.output(resultJson(result));
  else {
    if (disc.plan.title !== '') console.output(`${disc.plan.title}\n\n`);
    const paint = paintFor(console);
    console.output(stationTable(result, { length: args.length, angle: args.angle, paint }));
    console.output(`${decisionLine(result)}\n`);
    const settle = settleLines(result);
    if (settle !== '') console.output(`${settle}\n`);
    const below = summaryLine(result, args.length) + patternLine(result, args.length, paint);
    console.output(below + screenedLine(result));
  }
  for (const warning of disc.warnings) console.error(`Warning: ${warning}`);
}

function paintFor({ coloured }: Console): Paint {
  const { green, red, yellow } = pc.createColors(coloured);
  return (text, verdict) =>
    verdict === 'conforming' ? green(text) : verdict === 'nonconforming' ? red(text) : yellow(text);
}
