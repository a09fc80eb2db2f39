import { type FormEvent, useEffect, useId, useRef, useState } from 'react';
import { countOf } from '../../format/format.ts';
import { Modal } from '../../parts/modal.tsx';
import type { FeatureName } from '../../state/exclusions.ts';

/** What is to be left out: points of a feature by their lines, or the feature as a whole. */
export type Leaving =
  | { readonly kind: 'points'; readonly name: FeatureName; readonly lines: readonly number[] }
  | { readonly kind: 'feature'; readonly name: FeatureName; readonly count: number | null };

interface ExcludeDialogProps {
  /** Null: nothing is asked. */
  readonly leaving: Leaving | null;
  /** Reasons written before, to be taken again. */
  readonly reasons: readonly string[];
  readonly onExclude: (leaving: Leaving, reason: string) => void;
  readonly onClose: () => void;
}

function whereWords({ station, feature }: FeatureName): string {
  return station === null ? `${feature} of the hub` : `${feature} of station ${station}`;
}

function leavingWords(leaving: Leaving): string {
  if (leaving.kind === 'feature')
    return `${whereWords(leaving.name)}, all ${leaving.count === null ? 'points' : countOf(leaving.count, 'point')} of it`;
  const [first] = leaving.lines;
  return leaving.lines.length === 1
    ? `the point on line ${first}, ${whereWords(leaving.name)}`
    : `${countOf(leaving.lines.length, 'point')} of ${whereWords(leaving.name)}`;
}

/** Asks for the reason in writing; without one nothing is left out. */
export function ExcludeDialog({ leaving, reasons, onExclude, onClose }: ExcludeDialogProps) {
  const [reason, setReason] = useState('');
  const name = useId();
  const field = useRef<HTMLTextAreaElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: every question starts with an empty field.
  useEffect(() => {
    setReason('');
    // The dialog itself would give the focus to its Close button.
    field.current?.focus();
  }, [leaving]);
  const written = reason.trim();

  function submit(event: FormEvent) {
    event.preventDefault();
    if (leaving !== null && written !== '') onExclude(leaving, written);
  }

  return (
    <Modal title="Leave out" open={leaving !== null} onClose={onClose}>
      {leaving !== null && (
        <form className="exclude-form" onSubmit={submit}>
          <p>
            Reduce again without {leavingWords(leaving)}.
            {leaving.kind === 'feature' &&
              leaving.name.station !== null &&
              ' A station whose datum feature is left out is listed as missing.'}
          </p>
          <label htmlFor={name}>Reason, for the report</label>
          <textarea
            id={name}
            rows={3}
            required
            value={reason}
            maxLength={500}
            ref={field}
            onChange={(event) => setReason(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) submit(event);
            }}
          />
          {reasons.length > 0 && (
            <ul className="reasons" aria-label="Reasons written before">
              {reasons.slice(0, 4).map((text) => (
                <li key={text}>
                  <button type="button" className="button quiet" onClick={() => setReason(text)}>
                    {text}
                  </button>
                </li>
              ))}
            </ul>
          )}
          <div className="exclude-actions">
            <span className="caption">
              Kept with the result, listed in the report, and undone with Ctrl+Z.
            </span>
            <button type="button" className="button" onClick={onClose}>
              Keep it
            </button>
            <button type="submit" className="button strong" disabled={written === ''}>
              Leave out
            </button>
          </div>
        </form>
      )}
    </Modal>
  );
}
