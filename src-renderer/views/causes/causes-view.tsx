import type { DiscWorkspaceProps } from '../../shell/workspace.ts';

/** Why stations run out: the causes of the errors around the disc. */
export function CausesView({ disc }: DiscWorkspaceProps) {
  const { diagnosis } = disc.result;
  return (
    <main className="causes-view">
      <section className="panel" aria-label="Causes">
        {diagnosis === null ? (
          <p>The causes of the errors were not examined.</p>
        ) : (
          <ul>
            {diagnosis.sentences.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        )}
      </section>
    </main>
  );
}
