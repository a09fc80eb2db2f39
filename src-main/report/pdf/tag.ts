/** The logical structure of a PDF file (ISO 32000-1, 14.8): which element a text belongs to, for readers that do not look at pages. */

/** Standard structure types that a report is made of. */
export type Role =
  | 'Document'
  | 'Div'
  | 'H1'
  | 'H2'
  | 'H3'
  | 'P'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Table'
  | 'Caption'
  | 'THead'
  | 'TBody'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'Figure';

/** One element. Texts drawn under the same tag belong to the same element, on whichever page they stand. */
export interface Tag {
  readonly role: Role;
  readonly parent: Tag | null;
  /** What a figure shows. */
  readonly alt?: string;
  /** What a head of a table belongs to. */
  readonly scope?: 'Column' | 'Row';
}

export function tag(role: Role, parent: Tag | null, options: Pick<Tag, 'alt' | 'scope'> = {}): Tag {
  return { role, parent, ...options };
}
