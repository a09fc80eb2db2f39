import { type KeyboardEvent, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { HostFacts, HubtrueApi, OpenedFile } from '../src-main/api.ts';
import type { Units } from './format/format.ts';
import type { QuantityName } from './format/quantities.ts';
import { Modal } from './parts/modal.tsx';
import { Shell } from './shell/shell.tsx';
import { WorkspaceTabs } from './shell/workspace-tabs.tsx';
import { useDropTarget } from './state/drop-target.ts';
import { stillMissing } from './state/files.ts';
import { stationOrder, stepStation } from './state/selection.ts';
import { useSession } from './state/session.ts';
import { useDark, useSettings } from './state/settings.ts';
import { Opening, OpeningView } from './views/opening/opening.tsx';
import { planActions } from './views/plan/plan-store.ts';
import { Problems } from './views/problems/problems.tsx';
import { Reading } from './views/summary/reading.tsx';
import { workspaces } from './workspaces.ts';

interface AppProps {
  readonly api: HubtrueApi;
  /** A sample disc to open at once, from the address of the page. */
  readonly firstSample: string | null;
  /** The workspace to start with, from the address of the page. */
  readonly firstWorkspace: string | null;
}

export function App({ api, firstSample, firstWorkspace }: AppProps) {
  const [session, actions] = useSession(api);
  const [settings, change] = useSettings();
  const dark = useDark(settings.theme);
  const [facts, setFacts] = useState<HostFacts | null>(null);
  const [selected, setSelected] = useState<number | null>(null);
  const [marked, setMarked] = useState<readonly number[]>([]);
  const pointsOnView = useRef<string | null>(null);
  const [quantity, setQuantity] = useState<QuantityName>('position');
  const [workspaceName, setWorkspace] = useState(firstWorkspace ?? '');
  const [filesOpen, setFilesOpen] = useState(false);
  const [readingOpen, setReadingOpen] = useState(false);
  const dropping = useDropTarget(actions.drop);
  const units = useMemo<Units>(
    () => ({ length: settings.length, rotation: settings.rotation }),
    [settings.length, settings.rotation],
  );
  const { disc } = session;
  const offered = useMemo(() => workspaces.filter((entry) => disc !== null || !entry.needsDisc), [disc]);
  const workspace =
    offered.find((entry) => entry.name === workspaceName) ?? (disc === null ? null : offered[0]);

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

  // A new disc starts at its worst station, where a person would look first; the same one, reduced again, stays where it is.
  const pointsTicket = session.discFiles.points?.ticket ?? null;
  useEffect(() => {
    if (disc === null) return;
    const order = stationOrder(disc);
    const worst = disc.result.summary.worst?.station ?? order[0] ?? null;
    const again = pointsOnView.current === pointsTicket;
    pointsOnView.current = pointsTicket;
    setSelected((now) => (again && now !== null && order.includes(now) ? now : worst));
    setMarked((now) => (again ? now.filter((station) => order.includes(station)) : []));
    setQuantity((now) => (now === 'relative' && disc.result.pattern === null ? 'position' : now));
    setFilesOpen(false);
  }, [disc, pointsTicket]);

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
        return;
      }
      // By the place of the key: with Alt some systems make another sign of the figure.
      const place =
        event.altKey && !event.ctrlKey && !event.metaKey ? /^Digit([1-9])$/.exec(event.code) : null;
      const asked = place === null ? undefined : offered[Number(place[1]) - 1];
      if (asked !== undefined) {
        event.preventDefault();
        setWorkspace(asked.name);
      } else if (event.target === document.body) onKey(event);
    };
    document.addEventListener('keydown', listen);
    return () => document.removeEventListener('keydown', listen);
  }, [onKey, actions, offered]);

  const openPlan = (prepare: () => void): void => {
    prepare();
    setFilesOpen(false);
    setWorkspace('plan');
  };
  const opening = {
    samples: facts?.samples ?? [],
    files: session.files,
    recent: [],
    refused:
      session.progress === null &&
      stillMissing(session.files).length === 0 &&
      (disc === null || session.files !== session.discFiles),
    onChoose: actions.choose,
    onSample: actions.openSample,
    onRemove: actions.remove,
    onNewPlan: () => openPlan(planActions.begin),
    onDescribe: (points: OpenedFile) =>
      openPlan(() => {
        planActions.describePoints(points);
        actions.dismiss();
      }),
  };

  const common = {
    api,
    facts,
    session,
    actions,
    units,
    dark,
    settings,
    onSettings: change,
    quantity,
    onQuantity: setQuantity,
    selected,
    onSelect: setSelected,
    marked,
    onMark: setMarked,
    onStep: step,
    onKey,
    onWorkspace: setWorkspace,
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
      tabs={
        offered.length > 0 && (
          <WorkspaceTabs workspaces={offered} current={workspace?.name ?? ''} onWorkspace={setWorkspace} />
        )
      }
      notice={<Problems problems={session.problems} kept={disc !== null} onDismiss={actions.dismiss} />}
    >
      {workspace == null ? (
        <OpeningView {...opening} />
      ) : workspace.needsDisc ? (
        disc !== null && <workspace.View {...common} disc={disc} />
      ) : (
        <workspace.View {...common} disc={disc} />
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
