import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { OpenedFile, Problem } from '../../../src-main/api.ts';
import { Modal } from '../../parts/modal.tsx';
import type { WorkspaceProps } from '../../shell/workspace.ts';
import { useCommandHandlers } from '../../state/command-handlers.ts';
import { ImportView } from '../import/import-view.tsx';
import { CompareView } from './compare-view.tsx';
import { type Draft, isBlock, parseDraft, planText, textAt } from './draft.ts';
import { BladeDrawing } from './drawings/blade-drawing.tsx';
import { DiscDrawing } from './drawings/disc-drawing.tsx';
import { faultWords, placeWords } from './place-words.ts';
import { PlanProvider } from './plan-context.tsx';
import { PlanForm } from './plan-form.tsx';
import { isUnsaved, planActions, usePlan } from './plan-store.ts';
import { sectionOf, sections } from './sections.ts';
import { usePlanProblems } from './use-plan-problems.ts';
import './plan.css';

/** From points that nobody has described to a plan that can reduce them: mapping, editor, drawing, checks. */
export function PlanView({ api, session, actions, disc, onWorkspace }: WorkspaceProps) {
  const plan = usePlan();
  const { history, step, section, focus, preview, points, savedText } = plan;
  const draft = history.present;
  const text = useMemo(() => planText(draft), [draft]);
  const { problems, isCurrent } = usePlanProblems(api, text);
  const [comparing, setComparing] = useState(false);
  const [notice, setNotice] = useState<string | null>(null);
  const given = session.files;

  // The files of the session come along, unless something of one's own is being written.
  useEffect(() => {
    if (given.points !== undefined) planActions.seePoints(given.points);
  }, [given.points]);
  const open = useCallback(
    async (file: OpenedFile) => {
      const outcome = await api.planText({ plan: file.ticket });
      if (!outcome.ok) return setNotice(outcome.problems.map(({ message }) => message).join(' '));
      const parsed = parseDraft(outcome.value.text);
      if (parsed.draft === null) return setNotice(`${file.name} is not valid JSON: ${parsed.reason}`);
      planActions.open(parsed.draft, { name: file.name, ticket: file.ticket });
    },
    [api],
  );
  const isBlank = savedText === null && history.past.length === 0;
  useEffect(() => {
    if (given.plan !== undefined && isBlank && plan.source !== given.plan.ticket) void open(given.plan);
  }, [given.plan, isBlank, plan.source, open]);

  // The disc comes on view when the reduction with this plan has ended well.
  const discBefore = useRef(disc);
  useEffect(() => {
    if (plan.reducing && disc !== null && disc !== discBefore.current) {
      planActions.update({ reducing: false });
      onWorkspace('disc');
    }
    discBefore.current = disc;
  }, [disc, plan.reducing, onWorkspace]);
  useEffect(() => {
    if (session.problems.length > 0) planActions.update({ reducing: false });
  }, [session.problems]);

  const save = useCallback(async () => {
    const outcome = await api.savePlan({ name: plan.fileName, text });
    if (!outcome.ok) return setNotice(outcome.problems.map(({ message }) => message).join(' '));
    if (outcome.value.saved === null) return;
    planActions.update({ savedText: text, fileName: outcome.value.saved });
    setNotice(`Saved as ${outcome.value.saved}.`);
  }, [api, plan.fileName, text]);

  const choosePoints = async (): Promise<void> => {
    const outcome = await api.chooseFiles();
    if (!outcome.ok) return setNotice(outcome.problems.map(({ message }) => message).join(' '));
    const file = outcome.value.find(({ role }) => role === 'points');
    if (file !== undefined) planActions.describePoints(file);
    const planFile = outcome.value.find(({ role }) => role === 'plan');
    if (planFile !== undefined) {
      await open(planFile);
      planActions.update({ step: 'plan' });
    }
  };

  const reduce = async (): Promise<void> => {
    if (points === null) return planActions.update({ step: 'points' });
    const outcome = await api.openText({ name: plan.fileName, role: 'plan', text });
    if (!outcome.ok) return setNotice(outcome.problems.map(({ message }) => message).join(' '));
    planActions.update({ reducing: true, source: outcome.value.ticket });
    const { welds } = given;
    actions.give([points, outcome.value, ...(welds === undefined ? [] : [welds])]);
  };

  // Every field of the plan has the plan's undo. What is being written comes before the session that holds it.
  useCommandHandlers({
    undo: planActions.undo,
    redo: planActions.redo,
    ...(isUnsaved(plan) ? { 'save-session': () => void save() } : {}),
  });

  const problemsUnder = useCallback(
    (path: string): readonly Problem[] =>
      problems
        .filter((problem) => {
          const place = problem.path ?? '';
          return place === path || (place.startsWith(path) && '.['.includes(place[path.length] ?? ''));
        })
        .map((problem) => ({ ...problem, message: faultWords(problem) })),
    [problems],
  );
  const context = useMemo(
    () => ({
      draft,
      put: planActions.put,
      change: planActions.change,
      problemsUnder,
      focus,
      onFocus: (path: string | null) => planActions.update({ focus: path }),
      preview,
    }),
    [draft, problemsUnder, focus, preview],
  );
  const isSound = isCurrent && problems.length === 0;
  const title = textAt(draft, ['title']);

  return (
    <PlanProvider value={context}>
      <main className="plan-view">
        {disc === null && <h1 className="unseen">Plan</h1>}
        <header className="plan-bar">
          {disc === null && (
            <button type="button" className="button quiet" onClick={() => onWorkspace('')}>
              ← Start
            </button>
          )}
          <nav className="plan-steps" aria-label="Steps">
            <button
              type="button"
              aria-current={step === 'points' ? 'step' : undefined}
              onClick={() => planActions.update({ step: 'points' })}
            >
              <span className="step-number">1</span> Reading the points
              {points !== null && <span className="step-file">{points.name}</span>}
            </button>
            <button
              type="button"
              aria-current={step === 'plan' ? 'step' : undefined}
              onClick={() => planActions.update({ step: 'plan' })}
            >
              <span className="step-number">2</span> Plan
              <span className="step-file">
                {title === '' ? plan.fileName : title}
                {isUnsaved(plan) ? ' (not saved)' : ''}
              </span>
            </button>
          </nav>
          <div className="plan-tools">
            <button
              type="button"
              className="button"
              disabled={history.past.length === 0}
              onClick={planActions.undo}
              title={undoTitle('Undo', history.past.at(-1)?.what)}
            >
              Undo
            </button>
            <button
              type="button"
              className="button"
              disabled={history.future.length === 0}
              onClick={planActions.redo}
              title={undoTitle('Redo', history.future[0]?.what)}
            >
              Redo
            </button>
            <button type="button" className="button" onClick={planActions.begin}>
              New
            </button>
            <button type="button" className="button" onClick={() => setComparing(true)}>
              Compare plans
            </button>
            <button type="button" className="button" onClick={() => void save()}>
              Save plan
            </button>
            <button
              type="button"
              className="button strong"
              disabled={!isSound || session.progress !== null}
              onClick={() => void reduce()}
              data-testid="reduce"
            >
              {points === null ? 'Choose points' : 'Reduce the points'}
            </button>
          </div>
        </header>
        {notice !== null && (
          <p className="plan-notice" role="status">
            {notice}
            <button type="button" className="button quiet" onClick={() => setNotice(null)}>
              Close
            </button>
          </p>
        )}
        {given.plan !== undefined && !isBlank && plan.source !== given.plan.ticket && (
          <p className="plan-notice">
            {disc === null
              ? `${given.plan.name} was opened.`
              : `The disc on view was reduced with ${given.plan.name}.`}
            <button
              type="button"
              className="button"
              onClick={() => given.plan !== undefined && void open(given.plan)}
            >
              Edit that plan
            </button>
          </p>
        )}
        {step === 'points' ? (
          <ImportView api={api} plan={plan} onChoosePoints={() => void choosePoints()} />
        ) : (
          <div className="plan-body">
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
            <section
              key={section}
              className="panel plan-form"
              aria-label={sections.find(({ id }) => id === section)?.title}
            >
              <h2>{sections.find(({ id }) => id === section)?.title}</h2>
              <PlanForm section={section} />
            </section>
            <aside className="panel plan-picture" aria-label="Drawing and checks">
              <DiscDrawing draft={draft} focus={focus} />
              <BladeDrawing draft={draft} focus={focus} />
              <ProblemList
                draft={draft}
                section={section}
                problems={problems}
                isCurrent={isCurrent}
                onGo={(path) => planActions.update({ section: sectionOf(path), focus: path })}
              />
            </aside>
          </div>
        )}
        <Modal title="Compare plans" open={comparing} onClose={() => setComparing(false)}>
          <CompareView
            api={api}
            draft={draft}
            name={plan.fileName}
            saved={savedText}
            onView={session.discFiles.plan}
          />
        </Modal>
      </main>
    </PlanProvider>
  );
}

function undoTitle(word: string, what: string | undefined): string {
  const keys = word === 'Undo' ? 'Ctrl+Z' : 'Ctrl+Y';
  return what === undefined ? `${word} (${keys})` : `${word}: ${what} (${keys})`;
}

function holdsValues(draft: Draft, id: string): boolean {
  const section = sections.find((entry) => entry.id === id);
  if (section === undefined || id === 'text' || id === 'start') return false;
  return section.paths.some((path) => {
    if (path === 'format' || path === 'units') return false;
    let value: unknown = draft;
    for (const key of path.split('.'))
      value = isBlock(value as never) ? (value as Record<string, unknown>)[key] : undefined;
    if (Array.isArray(value)) return value.length > 0;
    return isBlock(value as never)
      ? Object.keys(value as object).length > 0
      : value !== undefined && value !== '';
  });
}

interface ProblemListProps {
  readonly draft: Draft;
  readonly section: string;
  readonly problems: readonly Problem[];
  readonly isCurrent: boolean;
  readonly onGo: (path: string) => void;
}

/** What still stands against a reduction, each leading to its place. */
function ProblemList({ draft, section, problems, isCurrent, onGo }: ProblemListProps) {
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
          <li key={problem.message}>
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
