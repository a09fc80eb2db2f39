import type { Data, Layout, PlotlyHTMLElement, PlotMouseEvent } from 'plotly.js/lib/core';
import { type ReactNode, type Ref, useEffect, useImperativeHandle, useRef } from 'react';
import { plotConfig } from './plot-config.ts';
import { Plotly } from './plotly.ts';
import './plot.css';

export interface PlotHandle {
  /** Data address of the picture, `scale` times as large as on screen (PNG). */
  readonly picture: (format: 'png' | 'svg') => Promise<string>;
}

interface PlotProps {
  readonly data: readonly Data[];
  readonly layout: Partial<Layout>;
  /** `customdata` of the clicked mark. */
  readonly onPick?: (customdata: unknown) => void;
  readonly handle?: Ref<PlotHandle>;
  readonly children?: ReactNode;
}

/** The one wrapper of the plot library: draws on change, follows the size of its box, hands out pictures. */
export function Plot({ data, layout, onPick, handle }: PlotProps) {
  const box = useRef<HTMLDivElement>(null);
  const drawn = useRef(false);
  const pick = useRef(onPick);
  pick.current = onPick;

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    void Plotly.react(element, [...data], { ...layout, autosize: true }, plotConfig).then(() => {
      if (drawn.current) return;
      drawn.current = true;
      const graph = element as unknown as PlotlyHTMLElement;
      graph.on('plotly_click', (event: PlotMouseEvent) => pick.current?.(event.points[0]?.customdata));
    });
  }, [data, layout]);

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      if (drawn.current && element.offsetParent !== null) void Plotly.Plots.resize(element);
    });
    observer.observe(element);
    return () => {
      observer.disconnect();
      drawn.current = false;
      Plotly.purge(element);
    };
  }, []);

  useImperativeHandle(handle, () => ({
    picture: (format) => {
      const element = box.current;
      if (element === null) return Promise.reject(new Error('There is no plot.'));
      const { width, height } = element.getBoundingClientRect();
      return Plotly.toImage(element as unknown as PlotlyHTMLElement, {
        format,
        width,
        height,
        scale: format === 'png' ? 2 : 1,
      });
    },
  }));

  return <div ref={box} className="plot" />;
}
