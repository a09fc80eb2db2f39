import { type ReactNode, useEffect, useRef } from 'react';

interface ModalProps {
  readonly title: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

/** The browser's own dialog: it keeps the focus, closes on Escape and gives the focus back. */
export function Modal({ title, open, onClose, children }: ModalProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const element = dialog.current;
    if (element === null) return;
    if (open && !element.open) element.showModal();
    if (!open && element.open) element.close();
  }, [open]);
  return (
    <dialog ref={dialog} aria-label={title} onClose={onClose}>
      <div className="dialog-head">
        <h2>{title}</h2>
        <button type="button" className="button quiet" onClick={onClose}>
          Close
        </button>
      </div>
      <div className="dialog-body">{open && children}</div>
    </dialog>
  );
}
