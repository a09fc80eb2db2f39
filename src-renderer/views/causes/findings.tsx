import { useState } from 'react';
import type { Diagnosis } from '../../../shared-math/diagnosis/findings.ts';
import type { Units } from '../../format/format.ts';
import { findingsInUnits } from '../../format/sentence.ts';
import { Modal } from '../../parts/modal.tsx';

interface FindingsProps {
  readonly diagnosis: Diagnosis;
  readonly units: Units;
}

/** What was found, in plain sentences, most important first; those that do not fit are one press away. */
export function Findings({ diagnosis, units }: FindingsProps) {
  const [open, setOpen] = useState(false);
  const sentences = findingsInUnits(diagnosis, units);
  const [lead, ...rest] = sentences;
  const count = sentences.length + diagnosis.warnings.length;
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
          {sentences.map((sentence) => (
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
