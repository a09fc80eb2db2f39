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

export type PictureFormat = 'png' | 'svg';

/** Saves a drawing as PNG or SVG. */
export function PictureTools({ drawings, of, fileName, pictureTitle }: PictureToolsProps) {
  async function save(format: PictureFormat) {
    for (const [index, svg] of drawings().entries()) {
      const text = pictureText(svg, pictureTitle);
      const blob = format === 'svg' ? new Blob([text], { type: 'image/svg+xml' }) : await picturePng(text);
      if (blob !== null) downloadBlob(`${fileName}${index === 0 ? '' : `-${index + 1}`}.${format}`, blob);
    }
  }
  return <PictureButtons of={of} onSave={(format) => void save(format)} />;
}

interface PictureButtonsProps {
  readonly of: string;
  readonly className?: string;
  readonly onSave: (format: PictureFormat) => void;
}

/** The buttons alone, for what makes its pictures itself. */
export function PictureButtons({ of, className = 'button quiet tool', onSave }: PictureButtonsProps) {
  return (['png', 'svg'] as const).map((format) => {
    const words = `Save ${of} as ${format.toUpperCase()}`;
    return (
      <button
        key={format}
        type="button"
        className={className}
        title={words}
        aria-label={words}
        onClick={() => onSave(format)}
      >
        {format.toUpperCase()}
      </button>
    );
  });
}
