import type { ReactNode } from 'react';
import type { Diagnosis } from '../../../shared-math/diagnosis/findings.ts';

/** What was found, in plain sentences, most important first. */
export function Findings({
  diagnosis,
  children,
}: {
  readonly diagnosis: Diagnosis;
  readonly children?: ReactNode;
}) {
  const [lead, ...rest] = diagnosis.sentences;
  return (
    <section className="findings panel" aria-label="Findings">
      {lead !== undefined && <p className="lead">{lead}</p>}
      <ul>
        {rest.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
        {diagnosis.warnings.map((warning) => (
          <li key={warning} className="warning">
            {warning}
          </li>
        ))}
      </ul>
      {children}
    </section>
  );
}
