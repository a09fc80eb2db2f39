import { Modal } from '../../parts/modal.tsx';
import type { SessionFileWork } from '../../state/session-file.ts';

/** Asked before other work takes the place of work that is not saved. */
export function LeaveDialog({ work }: { readonly work: SessionFileWork }) {
  return (
    <Modal title="Not saved" open={work.isAsking} onClose={() => work.answer('stay')}>
      <p>
        The work on view holds changes that are not saved: exclusions, notes or a plan. What you opened would
        take its place.
      </p>
      <div className="dialog-buttons">
        <button type="button" className="button strong" onClick={() => work.answer('save')}>
          Save, then open
        </button>
        <button type="button" className="button" onClick={() => work.answer('leave')}>
          Open without saving
        </button>
        <button type="button" className="button" onClick={() => work.answer('stay')}>
          Keep working
        </button>
      </div>
    </Modal>
  );
}
