import type { Problem } from '../../../src-main/api.ts';
import type { Draft } from './draft.ts';
import { faultWords, placeWords } from './place-words.ts';
import { sectionOf } from './sections.ts';

interface ProblemListProps {
  readonly draft: Draft;
  readonly section: string;
  readonly problems: readonly Problem[];
  readonly isCurrent: boolean;
  readonly onGo: (path: string) => void;
}

/** What still stands against a reduction, each leading to its place. */
export function ProblemList({ draft, section, problems, isCurrent, onGo }: ProblemListProps) {
  const isHere = ({ path }: Problem): boolean => sectionOf(path ?? '') === section;
  // What belongs to the part at hand comes first.
  const ordered = [...problems.filter(isHere), ...problems.filter((problem) => !isHere(problem))];
  return (
    <section className="plan-problems" aria-label="Checks of the plan">
      <div role="status">
        <h3>
          {problems.length === 0
            ? isCurrent
              ? 'The plan is complete and sound.'
              : 'Checking …'
            : `${problems.length} ${problems.length === 1 ? 'thing is' : 'things are'} still missing or wrong`}
        </h3>
      </div>
      <ul>
        {ordered.map((problem) => (
          <li key={`${problem.path} ${problem.message}`}>
            <button type="button" onClick={() => onGo(problem.path ?? '')} title={problem.path}>
              <b>{placeWords(problem.path ?? '', draft)}</b>
              <span>{faultWords(problem)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
