/** Tags as structure elements of the file, made when the first of their content is drawn: in the order of reading. */
import type { Role, Tag } from './tag.ts';

type Pdf = PDFKit.PDFDocument;
type Element = PDFKit.PDFStructureElement;
/** Corners on the page; y downwards. */
type Corners = readonly [number, number, number, number];

export class Structure {
  readonly #pdf: Pdf;
  readonly #elements = new Map<Tag, Element>();
  /** Whether what is drawn lies within a piece of marked content. */
  #marked = false;

  constructor(pdf: Pdf) {
    this.#pdf = pdf;
  }

  /** What is drawn meanwhile is content of the tag's element. */
  content(tag: Tag, draw: () => void, corners?: Corners): void {
    if (this.#marked) {
      draw();
      return;
    }
    const element = this.#elementOf(tag, corners);
    const content = this.#pdf.markStructureContent(tag.role);
    this.#within(draw);
    element.add(content);
  }

  /** What is drawn meanwhile is no content: lines and areas, or what belongs to the page. */
  artifact(options: PDFKit.Mixins.MarkingOptions, draw: () => void): void {
    if (this.#marked) {
      draw();
      return;
    }
    this.#pdf.markContent('Artifact', options);
    this.#within(draw);
  }

  #within(draw: () => void): void {
    this.#marked = true;
    draw();
    this.#marked = false;
    this.#pdf.endMarkedContent();
  }

  #elementOf(tag: Tag, corners?: Corners): Element {
    const known = this.#elements.get(tag);
    if (known !== undefined) return known;
    const { role, parent, alt, scope } = tag;
    const element = this.#pdf.struct(role satisfies Role, {
      ...(alt === undefined ? {} : { alt }),
      ...(scope === undefined ? {} : { scope }),
      ...(corners === undefined ? {} : { bbox: [...corners] as [number, number, number, number] }),
    });
    this.#elements.set(tag, element);
    if (parent === null) this.#pdf.addStructure(element);
    else this.#elementOf(parent).add(element);
    return element;
  }
}
