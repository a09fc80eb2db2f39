import type { Workspace } from './shell/workspace.ts';
import { CausesView } from './views/causes/causes-view.tsx';
import { CompareView } from './views/compare/compare-view.tsx';
import { DiscView } from './views/disc/disc-view.tsx';
import { FeaturesView } from './views/features/features-view.tsx';
import { PlanView } from './views/plan/plan-view.tsx';
import { ReportView } from './views/report/report-view.tsx';
import { SessionView } from './views/session/session-view.tsx';
import { WhatIfView } from './views/what-if/what-if-view.tsx';

/** The workspaces in the order of the title bar; the first is the one to start with. */
export const workspaces: readonly Workspace[] = [
  { name: 'disc', title: 'Disc', needsDisc: true, View: DiscView },
  { name: 'features', title: 'Features', needsDisc: true, View: FeaturesView },
  { name: 'compare', title: 'Compare', needsDisc: true, View: CompareView },
  { name: 'causes', title: 'Causes', needsDisc: true, View: CausesView },
  { name: 'what-if', title: 'What if', needsDisc: true, View: WhatIfView },
  { name: 'plan', title: 'Plan', needsDisc: false, View: PlanView },
  { name: 'report', title: 'Report', needsDisc: true, View: ReportView },
  { name: 'session', title: 'Session', needsDisc: false, View: SessionView },
];
