/** One catalogue for all languages: English is the type, so a key that another language lacks does not compile. */
import { de } from './de.ts';
import { en } from './en.ts';
import { fr } from './fr.ts';
import type { Language } from './languages.ts';

export type Messages = typeof en;

const CATALOGUE: Readonly<Record<Language, Messages>> = { en, de, fr };

export function messagesIn(language: Language): Messages {
  return CATALOGUE[language];
}
