import { type KeyboardEvent, type ReactNode, useRef } from 'react';
import type { Sheet } from '../parts/sheet.ts';
import { SheetTools } from '../parts/sheet-tools.tsx';
import { PictureTools } from './picture-tools.tsx';
import { useSize } from './use-size.ts';
import './chart.css';

interface ChartPanelProps {
  readonly className?: string;
  readonly title: string;
  readonly caption?: ReactNode;
  /** Switches of the chart, at the right of its head. */
  readonly controls?: ReactNode;
  /** Below the drawing, e.g. a legend. */
  readonly foot?: ReactNode;
  /** What the drawing shows, for people who hear the page. */
  readonly label: string;
  readonly sheet: Sheet;
  /** Without its ending. */
  readonly fileName: string;
  readonly pictureTitle: string;
  readonly onKey?: (event: KeyboardEvent) => void;
  /** Draws into the given size in pixels. */
  readonly children: (width: number, height: number) => ReactNode;
  /** Height that the drawing needs where it is not to fill the panel. */
  readonly height?: number;
}

/** A chart with its head, and with its numbers and its picture to take away. */
export function ChartPanel(props: ChartPanelProps) {
  const { title, caption, controls, foot, label, sheet, fileName, pictureTitle, onKey, children } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [box, size] = useSize<HTMLElement>();
  const height = props.height ?? size.height;

  return (
    <section className={`chart-panel panel ${props.className ?? ''}`} aria-label={title}>
      <header className="chart-head">
        <div className="chart-title">
          <h2>{title}</h2>
          {caption !== undefined && <p className="caption">{caption}</p>}
        </div>
        {controls}
        <div className="chart-tools">
          <SheetTools sheet={sheet} fileName={fileName} of={`the table of ${title}`} />
          <PictureTools
            drawings={() => (svg.current === null ? [] : [svg.current])}
            of={title}
            fileName={fileName}
            pictureTitle={pictureTitle}
          />
        </div>
      </header>
      <figure
        className="chart-figure"
        ref={box}
        aria-label={label}
        {...(onKey === undefined ? {} : { tabIndex: 0, onKeyDown: onKey })}
      >
        {size.width > 0 && height > 0 && (
          // biome-ignore lint/a11y/noSvgWithoutTitle: the figure says what it shows, and marks have titles of their own.
          <svg
            ref={svg}
            className="chart"
            width={size.width}
            height={height}
            viewBox={`0 0 ${size.width} ${height}`}
          >
            {children(size.width, height)}
          </svg>
        )}
      </figure>
      {foot !== undefined && <div className="chart-foot">{foot}</div>}
    </section>
  );
}
