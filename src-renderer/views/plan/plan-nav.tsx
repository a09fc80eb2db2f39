import type { Problem } from '../../../src-main/api.ts';
import { type Draft, isBlock, parsePath, valueAt } from './draft.ts';
import { planActions } from './plan-store.ts';
import { sectionOf, sections } from './sections.ts';

interface PlanNavProps {
  readonly draft: Draft;
  readonly section: string;
  readonly problems: readonly Problem[];
}

/** The parts of a plan, with what is wrong in each of them. */
export function PlanNav({ draft, section, problems }: PlanNavProps) {
  return (
    <nav className="plan-nav" aria-label="Parts of the plan">
      <ol>
        {sections.map(({ id, title: name }) => {
          const count = problems.filter(({ path }) => sectionOf(path ?? '') === id).length;
          return (
            <li key={id}>
              <button
                type="button"
                aria-current={section === id ? 'true' : undefined}
                onClick={() => planActions.update({ section: id, focus: null })}
              >
                {name}
                {count > 0 && (
                  <span className="badge">
                    {count}
                    <span className="unseen"> {count === 1 ? 'problem' : 'problems'}</span>
                  </span>
                )}
                {count === 0 && holdsValues(draft, id) && (
                  <span className="tick" aria-hidden="true">
                    ✓
                  </span>
                )}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** Every plan has these, whether or not anybody has written in it. */
const ALWAYS = new Set(['format', 'units']);

function holdsValues(draft: Draft, id: string): boolean {
  const section = sections.find((entry) => entry.id === id);
  if (section === undefined || id === 'text' || id === 'start') return false;
  return section.paths.some((path) => {
    const value = ALWAYS.has(path) ? undefined : valueAt(draft, parsePath(path));
    if (Array.isArray(value)) return value.length > 0;
    return isBlock(value) ? Object.keys(value).length > 0 : value !== undefined && value !== '';
  });
}
