import { useEffect, useId, useState } from 'react';
import { parseDraft, planText } from '../draft.ts';
import { usePlanContext } from '../plan-context.tsx';

/** The plan as its file has it, for those who would rather write it. */
export function PlanText() {
  const { draft, change } = usePlanContext();
  const id = useId();
  const text = planText(draft);
  const [typed, setTyped] = useState(text);
  const [isOwn, setOwn] = useState(false);
  // Changes from elsewhere, such as undo, win over what stands here unless it is being typed.
  useEffect(() => {
    if (!isOwn) setTyped(text);
  }, [text, isOwn]);
  const parsed = parseDraft(typed);
  return (
    <section className="block">
      <p className="block-hint" id={`${id}-hint`}>
        This is the file, <code>hubtrue-plan/1</code>. What you change here shows in the other parts at once,
        as long as it is valid JSON.
      </p>
      <label className="unseen" htmlFor={id}>
        Plan as text
      </label>
      <textarea
        id={id}
        className="plan-text"
        value={typed}
        rows={28}
        spellCheck={false}
        aria-describedby={`${id}-hint`}
        aria-invalid={parsed.draft === null}
        onFocus={() => setOwn(true)}
        onBlur={() => setOwn(false)}
        onChange={(event) => {
          setTyped(event.target.value);
          const next = parseDraft(event.target.value);
          if (next.draft !== null) change(next.draft, 'plan as text');
        }}
      />
      {parsed.draft === null && (
        <p className="field-fault" role="alert">
          Not taken yet: {parsed.reason}
        </p>
      )}
    </section>
  );
}
