import { type KeyboardEvent, useCallback, useEffect, useMemo, useState } from 'react';
import type { HostFacts, HubtrueApi } from '../src-main/api.ts';
import type { Units } from './format/format.ts';
import type { QuantityName } from './format/quantities.ts';
import { Modal } from './parts/modal.tsx';
import { Shell } from './shell/shell.tsx';
import { useDropTarget } from './state/drop-target.ts';
import { stationOrder, stepStation } from './state/selection.ts';
import { useSession } from './state/session.ts';
import { useDark, useSettings } from './state/settings.ts';
import { Opening, OpeningView } from './views/opening/opening.tsx';
import { PolarMap } from './views/polar-map/polar-map.tsx';
import { Problems } from './views/problems/problems.tsx';
import { StationCard } from './views/station-card/station-card.tsx';
import { StationTable } from './views/station-table/station-table.tsx';
import { Reading } from './views/summary/reading.tsx';
import { Summary } from './views/summary/summary.tsx';
import './app.css';

interface AppProps {
  readonly api: HubtrueApi;
  /** A sample disc to open at once, from the address of the page. */
  readonly firstSample: string | null;
}

export function App({ api, firstSample }: AppProps) {
  const [session, actions] = useSession(api);
  const [settings, change] = useSettings();
  const dark = useDark(settings.theme);
  const [facts, setFacts] = useState<HostFacts | null>(null);
  const [selected, setSelected] = useState<number | null>(null);
  const [quantity, setQuantity] = useState<QuantityName>('position');
  const [filesOpen, setFilesOpen] = useState(false);
  const [readingOpen, setReadingOpen] = useState(false);
  const dropping = useDropTarget(actions.drop);
  const units = useMemo<Units>(
    () => ({ length: settings.length, rotation: settings.rotation }),
    [settings.length, settings.rotation],
  );
  const { disc } = session;

  useEffect(() => {
    void api.facts().then((outcome) => {
      if (outcome.ok) setFacts(outcome.value);
    });
  }, [api]);

  useEffect(() => {
    if (firstSample !== null) actions.openSample(firstSample);
  }, [actions, firstSample]);

  useEffect(() => {
    document.title = disc === null ? 'Hubtrue' : `${disc.plan.title} – Hubtrue`;
  }, [disc]);

  // A new disc starts at its worst station, where a person would look first.
  useEffect(() => {
    if (disc === null) return;
    setSelected(disc.result.summary.worst?.station ?? stationOrder(disc)[0] ?? null);
    setQuantity((now) => (now === 'relative' && disc.result.pattern === null ? 'position' : now));
    setFilesOpen(false);
  }, [disc]);

  // The list of problems must not hide behind the dialog.
  useEffect(() => {
    if (session.problems.length > 0) setFilesOpen(false);
  }, [session.problems]);

  const step = useCallback(
    (by: number | 'first' | 'last') => {
      if (disc !== null) setSelected((now) => stepStation(stationOrder(disc), now, by));
    },
    [disc],
  );

  const onKey = useCallback(
    (event: KeyboardEvent | globalThis.KeyboardEvent) => {
      const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1, Home: 'first', End: 'last' }[
        event.key
      ];
      if (by === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      step(by as number | 'first' | 'last');
    },
    [step],
  );

  // Ctrl+O asks for files; arrow keys work wherever the focus is on nothing that wants them itself.
  useEffect(() => {
    const listen = (event: globalThis.KeyboardEvent) => {
      if ((event.ctrlKey || event.metaKey) && event.key === 'o') {
        event.preventDefault();
        actions.choose();
      } else if (event.target === document.body) onKey(event);
    };
    document.addEventListener('keydown', listen);
    return () => document.removeEventListener('keydown', listen);
  }, [onKey, actions]);

  const opening = {
    samples: facts?.samples ?? [],
    files: session.files,
    onChoose: actions.choose,
    onSample: actions.openSample,
    onRemove: actions.remove,
  };

  return (
    <Shell
      title={disc?.plan.title ?? null}
      files={session.discFiles}
      facts={facts}
      settings={settings}
      onSettings={change}
      onFiles={() => setFilesOpen(true)}
      progress={session.progress}
      onCancel={actions.cancel}
      importSentence={disc?.import.sentence ?? null}
      onReading={() => setReadingOpen(true)}
      dropping={dropping}
      notice={<Problems problems={session.problems} kept={disc !== null} onDismiss={actions.dismiss} />}
    >
      {disc === null ? (
        <OpeningView {...opening} />
      ) : (
        <main className="disc-view">
          <Summary disc={disc} units={units} onSelect={setSelected} />
          <PolarMap
            disc={disc}
            units={units}
            dark={dark}
            quantity={quantity}
            onQuantity={setQuantity}
            selected={selected}
            onSelect={setSelected}
            onKey={onKey}
          />
          <StationTable
            disc={disc}
            units={units}
            frame={settings.frame}
            onFrame={(frame) => change({ frame })}
            quantity={quantity}
            selected={selected}
            onSelect={setSelected}
          />
          <StationCard
            disc={disc}
            units={units}
            frame={settings.frame}
            quantity={quantity}
            onQuantity={setQuantity}
            selected={selected}
            onStep={step}
          />
        </main>
      )}
      <Modal title="How the files were read" open={readingOpen} onClose={() => setReadingOpen(false)}>
        {disc !== null && <Reading disc={disc} units={units} />}
      </Modal>
      <Modal title="Files" open={filesOpen} onClose={() => setFilesOpen(false)}>
        <Opening {...opening} />
      </Modal>
    </Shell>
  );
}
