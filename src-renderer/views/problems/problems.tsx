import type { Problem } from '../../../src-main/api.ts';
import { countOf } from '../../format/format.ts';
import './problems.css';

interface ProblemsProps {
  readonly problems: readonly Problem[];
  /** Whether a disc stays on view behind this list. */
  readonly kept: boolean;
  readonly onDismiss: () => void;
}

/** Why the given files were refused: place, what stood there, what was expected, what to do. */
export function Problems({ problems, kept, onDismiss }: ProblemsProps) {
  if (problems.length === 0) return null;
  return (
    <section className="problems" role="alert" aria-label="Problems">
      <header>
        <h2>
          {whatFailed(problems)}
          {problems.length > 1 && `: ${problems.length} problems`}
        </h2>
        {kept && <p>The disc on view is unchanged.</p>}
        <button type="button" className="button" onClick={onDismiss}>
          {kept ? 'Keep the disc on view' : 'Close'}
        </button>
      </header>
      <ol>
        {gathered(problems).map(({ problem, more }) => (
          <li key={`${problem.code} ${placeOf(problem)} ${problem.message}`}>
            <p className="message">{statementOf(problem)}</p>
            <dl>
              <Detail
                title="Place"
                text={
                  more === 0 ? placeOf(problem) : `${placeOf(problem)}, and ${countOf(more, 'line')} after it`
                }
              />
              <Detail title="Found" text={problem.value} />
              <Detail title="Expected" text={problem.expected} />
              <Detail title="Remedy" text={problem.remedy} />
            </dl>
          </li>
        ))}
      </ol>
    </section>
  );
}

/** Faults of what was left out by hand, not of the files. */
const ofExclusions: readonly string[] = ['excluded-datum', 'unknown-line', 'missing-reason'];

/** Faults of the program or of what it runs on. */
const ofTheProgram: readonly string[] = ['host-unreachable', 'system-fault', 'internal-fault', 'unknown-job'];

function whatFailed(problems: readonly Problem[]): string {
  if (problems.every(({ code }) => ofTheProgram.includes(code))) return 'This could not be done';
  return problems.every(({ code }) => ofExclusions.includes(code))
    ? 'The exclusion was not accepted'
    : 'The files were not accepted';
}

/** Problems in their order; those that differ from the one before in nothing but the line are one entry with it. */
export function gathered(
  problems: readonly Problem[],
): readonly { readonly problem: Problem; readonly more: number }[] {
  const entries: { problem: Problem; more: number }[] = [];
  const kindOf = ({ line: _, message, ...rest }: Problem): string =>
    JSON.stringify([rest, message.replace(/line \d+/, 'line')]);
  for (const problem of problems) {
    const last = entries.at(-1);
    const isSame =
      last !== undefined && problem.line !== undefined && kindOf(last.problem) === kindOf(problem);
    if (isSame) last.more += 1;
    else entries.push({ problem, more: 0 });
  }
  return entries;
}

/** What is wrong, without the place, value and remedy that stand below it. */
export function statementOf(problem: Problem): string {
  // The message counts characters where the file has no columns.
  const places = [placeOf(problem), placeOf(problem).replace(', column ', ', character ')];
  const place = places.find((text) => text !== '' && problem.message.startsWith(`${text}: `));
  const start = place === undefined ? 0 : place.length + 2;
  const rest = problem.message.slice(start);
  const ends = [`: found "`, `: expected `, `; ${problem.remedy ?? ''}.`].map((part) => rest.indexOf(part));
  const end = Math.min(rest.length, ...ends.filter((index) => index > 0));
  const statement = rest.slice(0, end).replace(/\.$/, '');
  // A file's name stays as it is.
  const asIs = problem.file !== undefined && statement.startsWith(problem.file);
  return asIs
    ? `${statement}.`
    : `${statement.replace(/^[a-z](?=[a-z]* )/, (first) => first.toUpperCase())}.`;
}

/** What is wrong and what to do, in one line. */
export function withRemedy(problem: Problem): string {
  const statement = statementOf(problem);
  return problem.remedy === undefined ? statement : `${statement} Remedy: ${problem.remedy}`;
}

export function placeOf(problem: Problem): string {
  return [
    problem.file,
    problem.line === undefined ? undefined : `line ${problem.line}`,
    problem.column === undefined ? undefined : `column ${problem.column}`,
    problem.path,
  ]
    .filter((part) => part !== undefined && part !== '')
    .join(', ');
}

function Detail({ title, text }: { readonly title: string; readonly text: string | undefined }) {
  if (text === undefined || text === '') return null;
  return (
    <div>
      <dt>{title}</dt>
      <dd>{text}</dd>
    </div>
  );
}
