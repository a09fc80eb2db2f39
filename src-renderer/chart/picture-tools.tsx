import { downloadBlob } from '../parts/download.ts';
import { picturePng, pictureText } from './picture.ts';

interface PictureToolsProps {
  /** The drawings at the time of the press, often one; each makes a file. */
  readonly drawings: () => readonly SVGSVGElement[];
  /** Said to people who hear the page. */
  readonly of: string;
  /** Without its ending. */
  readonly fileName: string;
  readonly pictureTitle: string;
}

/** Saves a drawing as PNG or SVG. */
export function PictureTools({ drawings, of, fileName, pictureTitle }: PictureToolsProps) {
  async function save(format: 'png' | 'svg') {
    for (const [index, svg] of drawings().entries()) {
      const text = pictureText(svg, pictureTitle);
      const blob = format === 'svg' ? new Blob([text], { type: 'image/svg+xml' }) : await picturePng(text);
      if (blob !== null) downloadBlob(`${fileName}${index === 0 ? '' : `-${index + 1}`}.${format}`, blob);
    }
  }
  return (['png', 'svg'] as const).map((format) => (
    <button
      key={format}
      type="button"
      className="button quiet tool"
      aria-label={`Save ${of} as ${format.toUpperCase()}`}
      onClick={() => void save(format)}
    >
      {format.toUpperCase()}
    </button>
  ));
}
