import manifest from '../package.json' with { type: 'json' };

/** Version of this software, as `package.json` states it. */
export const softwareVersion: string = manifest.version;
