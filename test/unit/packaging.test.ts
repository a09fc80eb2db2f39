/** What the packages hold and allow. Packing itself needs Electron's program and is not run by tests. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const packaging = JSON.parse(read('src-main/packaging/packaging.json'));
const manifest = JSON.parse(read('package.json'));

describe('the packaging configuration', () => {
  test('packs the version of Electron that the program is built against', () => {
    expect(packaging.electronVersion).toBe(manifest.devDependencies.electron);
  });

  // Electron's documentation, fuses.md: what turns a signed program into a general-purpose one is off.
  test.each([
    ['runAsNode', false],
    ['enableNodeOptionsEnvironmentVariable', false],
    ['enableNodeCliInspectArguments', false],
    ['grantFileProtocolExtraPrivileges', false],
    ['onlyLoadAppFromAsar', true],
    ['enableEmbeddedAsarIntegrityValidation', true],
    ['enableCookieEncryption', true],
  ] as const)('sets the fuse %s to %s', (fuse, value) => {
    expect(packaging.electronFuses[fuse]).toBe(value);
  });

  test('associates session files, covers three systems and publishes nowhere', () => {
    expect(packaging.fileAssociations).toMatchObject([{ ext: 'hubtrue' }]);
    for (const system of ['win', 'mac', 'linux']) expect(packaging[system].target.length).toBeGreaterThan(0);
    expect(packaging.publish).toBeNull();
  });

  // The packing tool makes no Debian package without these; both are names reserved by RFC 2606 until a publisher states his own.
  test('states homepage and maintainer, which a Debian package needs', () => {
    expect(packaging.linux.target).toContain('deb');
    expect(new URL(packaging.extraMetadata.homepage).protocol).toBe('https:');
    expect(packaging.linux.maintainer).toMatch(/^.+ <[^@\s]+@[^@\s]+>$/);
  });

  test('has an icon large enough for every system', () => {
    const png = readFileSync(new URL('../../src-main/packaging/icon.png', import.meta.url));
    expect(png.subarray(1, 4).toString('latin1')).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1024, 1024]);
  });

  test('packs what is built and no package folder: the program is bundled', () => {
    expect(packaging.files).toContain('!node_modules/**');
    for (const pattern of ['out/main/**', 'out/preload/**', 'out/renderer/**'])
      expect(packaging.files).toContain(pattern);
    expect(existsSync(fileURLToPath(new URL('../../src-main/packaging/icon.png', import.meta.url)))).toBe(
      true,
    );
  });
});

describe('licence notices of the build', () => {
  const notices = { main: read('out/notices/main.txt'), window: read('out/notices/window.txt') };
  const entries = (text: string) =>
    [...text.matchAll(/^(\S+) (\d\S*)\nLicence: (.+)$/gm)].map(([, name, version, licence]) => ({
      name,
      version,
      licence,
    }));

  test.each([
    [
      'main',
      [
        'zod',
        'papaparse',
        'ml-matrix',
        'fastest-levenshtein',
        'picocolors',
        'pdfkit',
        'fontkit',
        'fflate',
        'write-excel-file',
        '@expo-google-fonts/ibm-plex-sans',
        '@expo-google-fonts/noto-sans-symbols',
      ],
    ],
    ['window', ['react', 'react-dom', 'plotly.js', '@fontsource-variable/ibm-plex-sans']],
  ] as const)('%s: name what was taken in, in the version of the lock file', (build, names) => {
    const lock = JSON.parse(read('package-lock.json'));
    const found = new Map(entries(notices[build]).map((e) => [e.name, e.version]));
    for (const name of names)
      expect(found.get(name), name).toBe(lock.packages[`node_modules/${name}`].version);
  });

  test('name everything once', () => {
    for (const text of Object.values(notices)) {
      const names = entries(text).map(({ name, version }) => `${name} ${version}`);
      expect(names).toEqual([...new Set(names)]);
    }
  });

  test('hold the text of the licence of every font', () => {
    for (const [build, name] of [
      ['main', '@expo-google-fonts/ibm-plex-sans'],
      ['main', '@expo-google-fonts/noto-sans-symbols'],
      ['window', '@fontsource-variable/ibm-plex-sans'],
    ] as const) {
      const [, after = ''] = notices[build].split(`${name} `);
      expect(after.split('-'.repeat(72))[0], name).toMatch(/SIL OPEN FONT LICENSE/i);
    }
  });

  test('hold permissive licences only', () => {
    const permissive =
      /^(MIT|ISC|BSD-[23]-Clause|Apache-2\.0|Zlib|OFL-1\.1|0BSD|Unlicense|CC0-1\.0|BlueOak-1\.0\.0)$/;
    const all = [...entries(notices.main), ...entries(notices.window)];
    expect(all.length).toBeGreaterThan(20);
    // Where there is a choice, one permissive licence suffices.
    for (const { name, licence } of all)
      for (const part of (licence ?? '').replaceAll(/[()]/g, '').split(/ AND /))
        expect(
          part.split(/ OR /).some((word) => permissive.test(word.trim())),
          `${name}: ${licence}`,
        ).toBe(true);
  });
});
