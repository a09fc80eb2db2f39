import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { OpenedFile, Problem } from '../../../src-main/api.ts';
import { Modal } from '../../parts/modal.tsx';
import type { WorkspaceProps } from '../../shell/workspace.ts';
import { useCommandHandlers } from '../../state/command-handlers.ts';
import { ImportView } from '../import/import-view.tsx';
import { CompareView } from './compare-view.tsx';
import { parseDraft, planText, textAt } from './draft.ts';
import { BladeDrawing } from './drawings/blade-drawing.tsx';
import { DiscDrawing } from './drawings/disc-drawing.tsx';
import { useFocusOnPart } from './focus.ts';
import { faultWords } from './place-words.ts';
import { PlanBar } from './plan-bar.tsx';
import { PlanProvider } from './plan-context.tsx';
import { PlanForm } from './plan-form.tsx';
import { PlanNav } from './plan-nav.tsx';
import { isUnsaved, planActions, usePlan } from './plan-store.ts';
import { ProblemList } from './problem-list.tsx';
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
  const heading = useFocusOnPart(`${step} ${section}`);

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

  return (
    <PlanProvider value={context}>
      <main className="plan-view">
        {disc === null && <h1 className="unseen">Plan</h1>}
        <PlanBar
          plan={plan}
          title={textAt(draft, ['title'])}
          isReady={isCurrent && problems.length === 0 && session.progress === null}
          onStart={disc === null ? () => onWorkspace('') : null}
          onCompare={() => setComparing(true)}
          onSave={() => void save()}
          onReduce={() => void reduce()}
        />
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
            <PlanNav draft={draft} section={section} problems={problems} />
            <section
              key={section}
              className="panel plan-form"
              aria-label={sections.find(({ id }) => id === section)?.title}
            >
              <h2 ref={heading} tabIndex={-1}>
                {sections.find(({ id }) => id === section)?.title}
              </h2>
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
