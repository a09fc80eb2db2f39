import { isUnsaved, type PlanState, planActions } from './plan-store.ts';

interface PlanBarProps {
  readonly plan: PlanState;
  readonly title: string;
  /** The plan is sound, and nothing else is being reduced. */
  readonly isReady: boolean;
  /** Back to the opening view; null while a disc is on view. */
  readonly onStart: (() => void) | null;
  readonly onCompare: () => void;
  readonly onSave: () => void;
  readonly onReduce: () => void;
}

/** The two steps of a plan, and what can be done with the whole of it. */
export function PlanBar({ plan, title, isReady, onStart, onCompare, onSave, onReduce }: PlanBarProps) {
  const { step, points, history } = plan;
  return (
    <header className="plan-bar">
      {onStart !== null && (
        <button type="button" className="button quiet" onClick={onStart}>
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
        <button type="button" className="button" onClick={onCompare}>
          Compare plans
        </button>
        <button type="button" className="button" onClick={onSave}>
          Save plan
        </button>
        <button
          type="button"
          className="button strong"
          disabled={!isReady}
          onClick={onReduce}
          data-testid="reduce"
        >
          {points === null ? 'Choose points' : 'Reduce the points'}
        </button>
      </div>
    </header>
  );
}

function undoTitle(word: string, what: string | undefined): string {
  const keys = word === 'Undo' ? 'Ctrl+Z' : 'Ctrl+Y';
  return what === undefined ? `${word} (${keys})` : `${word}: ${what} (${keys})`;
}
