import type { StationUncertainty, UncertaintyShare, UncertaintySource } from '../../../shared-math/result.ts';

/** A blade's own sources first; the rest is shared by all stations. */
const own: readonly UncertaintySource[] = ['probing', 'form'];
const shared: readonly UncertaintySource[] = ['frame', 'scale', 'temperature'];

/** Shares of the sources in the variance of the displacement that decides, as a bar and in words. */
export function UncertaintySources({
  uncertainty,
  at,
}: {
  readonly uncertainty: StationUncertainty;
  readonly at: string;
}) {
  const of = (names: readonly UncertaintySource[]): readonly UncertaintyShare[] =>
    names.flatMap((name) => uncertainty.sources.filter(({ source }) => source === name));
  const ordered = [...of(own), ...of(shared)];
  const starts = ordered.map((_, index) =>
    ordered.slice(0, index).reduce((sum, { share }) => sum + share, 0),
  );
  const words = (names: readonly UncertaintySource[]) =>
    of(names).map((entry) => <Share key={entry.source} {...entry} />);
  return (
    <div className="sources">
      <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
        {ordered.map(({ source, share }, index) => (
          <rect
            key={source}
            x={100 * (starts[index] ?? 0)}
            width={100 * share}
            height="8"
            className={source}
          />
        ))}
      </svg>
      <p title={`Shares of the variance of the displacement at ${at}, along the displacement`}>
        <span className="group">
          <b>Uncertainty at {at}</b>, own: {words(own)}
        </span>
        <span className="group">shared: {words(shared)}</span>
      </p>
    </div>
  );
}

/** What the plan or the points have to state; the others come from the residuals. */
const stated: readonly UncertaintySource[] = ['probing', 'scale', 'temperature'];

function Share({ source, share, standard }: UncertaintyShare) {
  const percent = 100 * share;
  // Nought because nobody stated it is no measured nought.
  const isUnknown = stated.includes(source) && Object.values(standard).every((value) => value === 0);
  const text = isUnknown ? 'none stated' : `${percent > 0 && percent < 0.5 ? '<1' : percent.toFixed(0)} %`;
  return (
    <span className="share">
      <span className={`swatch ${source}`} />
      {source} {text}
    </span>
  );
}
