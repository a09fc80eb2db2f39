/** Why the desktop window cannot open here, in one sentence; null where nothing speaks against it. */
export function desktopObstacle(
  program: string | null,
  platform: NodeJS.Platform,
  environment: Readonly<Record<string, string | undefined>>,
): string | null {
  if (program === null)
    return "Electron's program is not on this machine; `npm run fetch-electron` fetches it when online.";
  const display = environment['DISPLAY'] ?? environment['WAYLAND_DISPLAY'] ?? '';
  if (platform === 'linux' && display === '') return 'this session has no graphical display.';
  return null;
}
