/** One catalogue for all languages: English is the type, so a key that another language lacks does not compile. */
import { de } from './de.ts';
import { en } from './en.ts';
import { fr } from './fr.ts';

export type Messages = typeof en;

export const languages = ['en', 'de', 'fr'] as const;
export type Language = (typeof languages)[number];

const CATALOGUE: Readonly<Record<Language, Messages>> = { en, de, fr };

export function messagesIn(language: Language): Messages {
  return CATALOGUE[language];
}

/** The decimal sign of each language. */
export const decimalSigns: Readonly<Record<Language, '.' | ','>> = { en: '.', de: ',', fr: ',' };
