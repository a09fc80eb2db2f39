import { useState } from 'react';
import type { Diagnosis } from '../../../shared-math/diagnosis/findings.ts';
import { Modal } from '../../parts/modal.tsx';

/** What was found, in plain sentences, most important first; those that do not fit are one press away. */
export function Findings({ diagnosis }: { readonly diagnosis: Diagnosis }) {
  const [open, setOpen] = useState(false);
  const [lead, ...rest] = diagnosis.sentences;
  const count = diagnosis.sentences.length + diagnosis.warnings.length;
  return (
    <section className="findings panel" aria-label="Findings">
      {lead !== undefined && <p className="lead">{lead}</p>}
      <ul className="clipped">
        {rest.map((sentence) => (
          <li key={sentence} title={sentence}>
            {sentence}
          </li>
        ))}
      </ul>
      <button type="button" className="button findings-all" onClick={() => setOpen(true)}>
        All {count} findings
      </button>
      <Modal title="Findings" open={open} onClose={() => setOpen(false)}>
        <ul className="all-findings">
          {diagnosis.sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
          {diagnosis.warnings.map((warning) => (
            <li key={warning} className="warning">
              {warning}
            </li>
          ))}
        </ul>
      </Modal>
    </section>
  );
}
