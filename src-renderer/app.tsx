import {
  type KeyboardEvent,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { HostFacts, HubtrueApi, OpenedFile, RecentSession } from '../src-main/api.ts';
import type { Units } from './format/format.ts';
import type { QuantityName } from './format/quantities.ts';
import { Announcer } from './parts/announcer.tsx';
import { Modal } from './parts/modal.tsx';
import { Shell } from './shell/shell.tsx';
import { WorkspaceTabs } from './shell/workspace-tabs.tsx';
import { useCommands } from './state/command-handlers.ts';
import { useDropTarget } from './state/drop-target.ts';
import { stillMissing } from './state/files.ts';
import { isFreeKey, useLanding } from './state/landing.ts';
import { stationOrder, stepStation } from './state/selection.ts';
import { useSessionFile } from './state/session-file.ts';
import { nextSetting, useDark, useSettings } from './state/settings.ts';
import { type Keeper, useSession } from './state/use-session.ts';
import { Calculator } from './views/calculator/calculator-view.tsx';
import { Opening, OpeningView } from './views/opening/opening.tsx';
import { planActions } from './views/plan/plan-store.ts';
import { Problems } from './views/problems/problems.tsx';
import { LeaveDialog } from './views/session/leave-dialog.tsx';
import { Recovery } from './views/session/recovery.tsx';
import { SavedBand } from './views/session/saved-band.tsx';
import { Shortcuts } from './views/shortcuts/shortcuts.tsx';
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
  const keeper = useRef<Keeper | null>(null);
  const [session, actions] = useSession(api, keeper);
  const work = useSessionFile(api, session, actions, keeper);
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
  const [shortcutsOpen, setShortcutsOpen] = useState(false);
  const [calculatorOpen, setCalculatorOpen] = useState(false);
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
    const names = [work.name, disc?.plan.title].filter((name) => name != null && name !== '');
    const state = session.savedResults !== null && work.absent.length > 0 ? ' (results only)' : '';
    document.title = `${work.unsaved ? '● ' : ''}${[...names, 'Hubtrue'].join(' – ')}${state}`;
  }, [disc, session.savedResults, work.name, work.unsaved, work.absent]);

  // Files that the system asked the program to open go the way of all others.
  useEffect(() => api.onOpened(actions.give), [api, actions]);

  // A new disc starts at its worst station, where a person would look first; the same one, reduced again, stays where it is.
  // Before it is painted: its first picture shows the station already.
  const pointsTicket = session.discFiles.points?.ticket ?? null;
  useLayoutEffect(() => {
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

  // Arrow keys work wherever the focus is on nothing that wants them itself.
  useEffect(() => {
    const listen = (event: globalThis.KeyboardEvent) => {
      if (isFreeKey(event)) onKey(event);
    };
    document.addEventListener('keydown', listen);
    return () => document.removeEventListener('keydown', listen);
  }, [onKey]);

  useLanding(disc, workspace?.name);

  const openPlan = (prepare: () => void): void => {
    prepare();
    setFilesOpen(false);
    setWorkspace('plan');
  };
  const opening = {
    samples: facts?.samples ?? [],
    files: session.files,
    recent: work.recent,
    onRecent: (entry: RecentSession) => work.open(entry.ticket),
    recovery: <Recovery work={work} />,
    refused:
      session.progress === null &&
      stillMissing(session.files).length === 0 &&
      (disc === null || session.files !== session.discFiles),
    onChoose: actions.choose,
    onSample: actions.openSample,
    onRemove: actions.remove,
    onNewPlan: () => openPlan(planActions.begin),
    onCalculator: () => setCalculatorOpen(true),
    onDescribe: (points: OpenedFile) =>
      openPlan(() => {
        planActions.describePoints(points);
        actions.dismiss();
      }),
  };

  useCommands(
    api,
    {
      'new-plan': () => openPlan(planActions.begin),
      open: actions.choose,
      'save-session': () => (work.isEmpty ? undefined : void work.save(false)),
      'save-session-as': () => (work.isEmpty ? undefined : void work.save(true)),
      'save-report': () => (disc === null ? undefined : setWorkspace('report')),
      undo: actions.undoExclusion,
      redo: actions.redoExclusion,
      'next-length': () => change({ length: nextSetting('length', settings.length) }),
      'next-rotation': () => change({ rotation: nextSetting('rotation', settings.rotation) }),
      'next-colours': () => change({ theme: nextSetting('theme', settings.theme) }),
      calculator: () => setCalculatorOpen(true),
      shortcuts: () => setShortcutsOpen(true),
    },
    (number) => {
      const asked = offered[number - 1];
      if (asked !== undefined) setWorkspace(asked.name);
      return asked !== undefined;
    },
  );

  const common = {
    api,
    facts,
    session,
    actions,
    work,
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
      work={work}
      onShortcuts={() => setShortcutsOpen(true)}
      band={
        <SavedBand
          session={session}
          work={work}
          onReduce={() => actions.reduceFrom(session.discFiles)}
          onCompare={() => setWorkspace('compare')}
        />
      }
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
      <Modal title="Keyboard shortcuts" open={shortcutsOpen} onClose={() => setShortcutsOpen(false)}>
        <Shortcuts workspaces={offered} host={facts?.host ?? 'browser'} />
      </Modal>
      <Modal title="Calculator" open={calculatorOpen} onClose={() => setCalculatorOpen(false)}>
        <Calculator budget={disc?.definition.budget ?? null} units={units} />
      </Modal>
      <LeaveDialog work={work} />
      <Announcer session={session} message={work.message} />
    </Shell>
  );
}
