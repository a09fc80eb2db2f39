/**
 * Building blocks of the session's schemas: everything has a bound, so that a made-up file cannot ask for more than a large
 * disc would. Objects inside a result keep keys that are not known here, since later versions may add some; numbers are finite.
 */
import { z } from 'zod';

/** Stations that a plan may have. */
export const MOST_STATIONS = 10_000;

export const number = z.number();
export const numberOrNull = number.nullable();
export const count = z.int().min(0);
export const stationNumber = z.int().min(1).max(MOST_STATIONS);

/** Names of features, datums, check points, tools. */
export const name = z.string().max(1000);
/** Sentences. */
export const text = z.string().max(100_000);
export const textOrNull = text.nullable();

/** A list of at most so many. */
export const list = <T extends z.ZodType>(entry: T, most: number) => z.array(entry).max(most);
/** A list with at most one entry a station. */
export const byStation = <T extends z.ZodType>(entry: T) => list(entry, MOST_STATIONS);
/** A short list: datums, check points, limits, warnings. */
export const few = <T extends z.ZodType>(entry: T) => list(entry, 5000);

export const vec3 = z.tuple([number, number, number]);
export const mat3 = z.tuple([vec3, vec3, vec3]);
export const vec6 = z.tuple([number, number, number, number, number, number]);
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in 64 hexadecimal digits');

/** Longest name of a file that systems of today take, bytes. */
const LONGEST_FILE_NAME = 255;

/** The last part of a path and nothing else: no folder, no way upwards, no control character. */
export const fileName = z
  .string()
  .min(1)
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what no file name may have.
  .regex(/^(?!\.{1,2}$)[^/\\\u0000-\u001f]*$/, 'a file name without folder')
  .refine((given) => Buffer.byteLength(given) <= LONGEST_FILE_NAME, 'a file name of at most 255 bytes');
