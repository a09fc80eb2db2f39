import { useEffect, useRef } from 'react';
import { readReport } from './read-report.ts';

interface PreviewProps {
  readonly html: string;
  /** Stays in sight when the report is made anew. */
  readonly label: string;
}

/**
 * The report's own markup on a sheet of its own. It lives in a shadow tree under the page's strict policy: no frame, no
 * script, no inline style; its style sheet cannot reach the window, nor the window's it.
 */
export function Preview({ html, label }: PreviewProps) {
  const holder = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = holder.current;
    if (element === null) return;
    const root = element.shadowRoot ?? element.attachShadow({ mode: 'open' });
    const { css, sheet } = readReport(html);
    const styles = new CSSStyleSheet();
    styles.replaceSync(css);
    root.adoptedStyleSheets = [styles];
    root.replaceChildren(sheet);
  }, [html]);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reached by keyboard (WCAG 2.1.1).
    <section className="report-preview" aria-label={label} tabIndex={0}>
      <div ref={holder} />
    </section>
  );
}
