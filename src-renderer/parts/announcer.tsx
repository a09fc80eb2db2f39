import { useEffect, useState } from 'react';
import { countOf } from '../format/format.ts';
import type { Session } from '../state/session.ts';

interface AnnouncerProps {
  readonly session: Session;
  /** What saving and opening have to say. */
  readonly message: string;
}

const stages = {
  reading: 'Reading the points',
  hub: 'Reducing the hub',
  blades: 'Reducing the blades',
  done: 'Looking for causes',
} as const;

/** How long a message of saving or opening stays in sight. */
const SHOWN_MS = 6_000;

/** The message as long as it is to be seen, then nothing. */
export function useForAWhile(message: string): string {
  const [isShown, setShown] = useState(false);
  useEffect(() => {
    if (message === '') return;
    setShown(true);
    const timer = setTimeout(() => setShown(false), SHOWN_MS);
    return () => clearTimeout(timer);
  }, [message]);
  return isShown ? message : '';
}

/** Says to people who hear the page what others see happen: stages of a reduction, its outcome, saving and opening. */
export function Announcer({ session, message }: AnnouncerProps) {
  const { disc, progress, problems, savedResults, before } = session;
  const stage = progress?.stage ?? null;
  const [outcome, setOutcome] = useState('');
  useEffect(() => {
    if (disc === null) return;
    const { conforming, stations } = disc.result.summary;
    setOutcome(
      `${savedResults === null ? 'Reduced' : 'Saved results'}: ${conforming} of ${countOf(stations, 'station')} conform.`,
    );
  }, [disc, savedResults]);
  // Problems speak for themselves, as an alert.
  const words = stage !== null && before === null ? `${stages[stage]} …` : problems.length > 0 ? '' : outcome;
  return (
    <>
      <p className="unseen" role="status" data-testid="announcer">
        {words}
      </p>
      <p className="unseen" role="status" data-testid="message">
        {message}
      </p>
    </>
  );
}
