import type { DiscWorkspaceProps } from '../../shell/workspace.ts';

/** The bench on which settings are tried before the next disc. */
export function WhatIfView({ disc }: DiscWorkspaceProps) {
  return (
    <main className="what-if-view">
      <section className="panel" aria-label="What if">
        <p>{disc.plan.title}</p>
      </section>
    </main>
  );
}
