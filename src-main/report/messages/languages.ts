/** The languages of the report. */

export const languages = ['en', 'de', 'fr'] as const;
export type Language = (typeof languages)[number];

/** The decimal sign of each. */
export const decimalSigns: Readonly<Record<Language, '.' | ','>> = { en: '.', de: ',', fr: ',' };
