import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

export interface Size {
  readonly width: number;
  readonly height: number;
}

/**
 * Size of the content box of an element, in whole pixels, as it changes. It is known before the first picture of the
 * element, so that what is drawn into it is there from the start.
 */
export function useSize<E extends HTMLElement>(): [RefObject<E | null>, Size] {
  const box = useRef<E>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const measure = () => {
      const [width, height] = [Math.floor(element.clientWidth), Math.floor(element.clientHeight)];
      setSize((now) => (now.width === width && now.height === height ? now : { width, height }));
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [box, size];
}
