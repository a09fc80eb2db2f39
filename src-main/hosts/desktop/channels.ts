/** Names of the messages between the desktop window's preload script and the main process. */
export const channels = {
  facts: 'hubtrue:facts',
  openSample: 'hubtrue:open-sample',
  chooseFiles: 'hubtrue:choose-files',
  openPaths: 'hubtrue:open-paths',
  reduce: 'hubtrue:reduce',
  cancel: 'hubtrue:cancel',
  job: 'hubtrue:job',
} as const;
