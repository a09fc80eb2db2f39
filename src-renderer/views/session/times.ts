/** A time of the main floor as people read it here, in their own time zone: `2026-05-21 14:03`. */
export function localTime(instant: string): string {
  const time = new Date(instant);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())} ${two(time.getHours())}:${two(time.getMinutes())}`;
}
