/** How a report says the sentences of the result: in English as the result holds them, else by the phrasebook of its language. */
import { type Note, type Phrasebook, speaker } from '../../../../shared-math/notes/notes.ts';
import type { NumberFormat } from '../../format/numbers.ts';
import type { Language } from '../languages.ts';
import { deNotes } from './de.ts';
import { frNotes } from './fr.ts';

const PHRASEBOOKS: Readonly<Record<Exclude<Language, 'en'>, Phrasebook>> = { de: deNotes, fr: frNotes };

/** A recorded sentence with its note; results kept by earlier versions have none and stay in English. */
export type SayRecorded = (note: Note | undefined, recorded: string) => string;

export function sayRecorded(language: Language, f: NumberFormat): SayRecorded {
  if (language === 'en') return (_, recorded) => recorded;
  const { note: say } = speaker(PHRASEBOOKS[language], {
    fixed: f.fixed,
    brief: (value) => f.significant(value, 4),
  });
  return (note, recorded) => (note === undefined ? recorded : say(note));
}
