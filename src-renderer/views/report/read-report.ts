/** Takes a report apart, so that it can be shown inside the window. */

export interface ReportParts {
  readonly css: string;
  readonly sheet: HTMLElement;
}

function between(text: string, begin: string, end: string): string {
  const from = text.indexOf(begin);
  const to = text.indexOf(end, from);
  return from < 0 || to < 0 ? '' : text.slice(from + begin.length, to);
}

/**
 * The report's rules for a shadow tree: what it says of the page as a whole goes for the sheet, and its fonts stay behind,
 * since the window has the same face and lets no font in from a `data:` address.
 */
function shadowRules(css: string): string {
  return css
    .replaceAll(/@font-face\{[^}]*\}/g, '')
    .replaceAll(/(^|[{}])html\{[^}]*\}/g, '$1')
    .replaceAll(/(^|[{}])body\{/g, '$1.paper{')
    .replaceAll(/(^|[{}])main\{/g, '$1.sheet{');
}

export function readReport(html: string): ReportParts {
  // Style attributes become data first: the policy refuses them in markup, not as properties.
  const markup = between(html, '<main>', '</main>').replaceAll(' style="', ' data-style="');
  const parsed = new DOMParser().parseFromString(markup, 'text/html');
  const paper = document.createElement('div');
  const sheet = document.createElement('div');
  paper.className = 'paper';
  sheet.className = 'sheet';
  sheet.lang = /<html lang="([a-z]+)"/.exec(html)?.[1] ?? 'en';
  paper.append(sheet);
  sheet.append(...parsed.body.childNodes);
  for (const styled of sheet.querySelectorAll<HTMLElement>('[data-style]')) {
    styled.style.cssText = styled.dataset['style'] ?? '';
    delete styled.dataset['style'];
  }
  for (const table of sheet.querySelectorAll<HTMLElement>('.scroll')) {
    table.tabIndex = 0;
    table.setAttribute('role', 'group');
    table.ariaLabel = table.querySelector('caption')?.textContent ?? sheet.lang;
  }
  return { css: shadowRules(between(html, '<style>', '</style>')), sheet: paper };
}

/** Headings of the sections, as the report numbers them. */
export function sectionsOf(html: string): readonly string[] {
  return [...html.matchAll(/<h2>(.*?)<\/h2>/gs)].map(
    ([, text]) => new DOMParser().parseFromString(text ?? '', 'text/html').body.textContent ?? '',
  );
}
