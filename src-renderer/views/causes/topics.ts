import type { ComponentType } from 'react';
import type { Diagnosis } from '../../../shared-math/diagnosis/findings.ts';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';

export interface DiagnosisProps extends DiscWorkspaceProps {
  readonly diagnosis: Diagnosis;
}

/** A page of the workspace. */
export interface Topic {
  readonly name: string;
  readonly title: string;
  readonly View: ComponentType<DiagnosisProps>;
}
