import type { ComponentType, KeyboardEvent } from 'react';
import type { HostFacts, HubtrueApi, ReducedDisc } from '../../src-main/api.ts';
import type { Units } from '../format/format.ts';
import type { QuantityName } from '../format/quantities.ts';
import type { Session } from '../state/session.ts';
import type { SessionFileWork } from '../state/session-file.ts';
import type { Settings } from '../state/settings.ts';
import type { SessionActions } from '../state/use-session.ts';

/** What every workspace is given. The selection and the quantity are one for all of them. */
export interface WorkspaceProps {
  readonly api: HubtrueApi;
  readonly facts: HostFacts | null;
  readonly session: Session;
  readonly actions: SessionActions;
  /** The work at hand as a session file. */
  readonly work: SessionFileWork;
  readonly disc: ReducedDisc | null;
  readonly units: Units;
  readonly dark: boolean;
  readonly settings: Settings;
  readonly onSettings: (change: Partial<Settings>) => void;
  readonly quantity: QuantityName;
  readonly onQuantity: (name: QuantityName) => void;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  /** Stations chosen together in the station table; empty where only one is selected. */
  readonly marked: readonly number[];
  readonly onMark: (stations: readonly number[]) => void;
  readonly onStep: (by: number | 'first' | 'last') => void;
  /** Arrow keys, Home and End move the selection along the ring. */
  readonly onKey: (event: KeyboardEvent) => void;
  /** Opens another workspace by its name. */
  readonly onWorkspace: (name: string) => void;
}

export interface DiscWorkspaceProps extends WorkspaceProps {
  readonly disc: ReducedDisc;
}

interface Named {
  /** Stable, e.g. for the `view` of the page's address. */
  readonly name: string;
  /** As it stands in the title bar. */
  readonly title: string;
}

export type Workspace =
  | (Named & { readonly needsDisc: true; readonly View: ComponentType<DiscWorkspaceProps> })
  | (Named & { readonly needsDisc: false; readonly View: ComponentType<WorkspaceProps> });
