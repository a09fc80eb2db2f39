import { type Standing, standingText } from '../format/format.ts';

/** Shape and fill tell the verdicts apart without colour: disc, solid diamond, open square with a dot, cross. */
export function VerdictMark({ standing }: { readonly standing: Standing }) {
  return (
    <svg className={`mark ${standing}`} viewBox="-6 -6 12 12" aria-hidden="true">
      <VerdictShape standing={standing} />
    </svg>
  );
}

/** The mark about the origin of a drawing, 12 wide, in its text colour. */
export function VerdictShape({ standing }: { readonly standing: Standing }) {
  switch (standing) {
    case 'conforming':
      return <circle r="4.4" fill="currentColor" />;
    case 'nonconforming':
      return <path d="M0 -6 L6 0 L0 6 L-6 0 Z" fill="currentColor" />;
    case 'unproven':
      return (
        <>
          <rect x="-4.5" y="-4.5" width="9" height="9" fill="none" stroke="currentColor" strokeWidth="1.6" />
          <circle r="1.6" fill="currentColor" />
        </>
      );
    case 'missing':
      return <path d="M-4 -4 L4 4 M4 -4 L-4 4" stroke="currentColor" strokeWidth="1.9" fill="none" />;
  }
}

export function StandingText({ standing }: { readonly standing: Standing }) {
  return (
    <span className="standing">
      <VerdictMark standing={standing} />
      {standingText[standing]}
    </span>
  );
}
