/** Runs after the next picture of the page; returns what calls it off. */
export function afterPaint(work: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => {
    timer = setTimeout(work);
  });
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}

/** Runs as a task of its own, if possible before the next picture of the page; returns what calls it off. */
export function asNextTask(work: () => void): () => void {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => {
    port1.close();
    work();
  };
  port2.postMessage(null);
  return () => port1.close();
}
