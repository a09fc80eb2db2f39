/** The licence notices that travel with the program, one file a build, made while it is bundled. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import license, { type Dependency } from 'rollup-plugin-license';

const project = new URL('../../', import.meta.url);

/** Fonts: the bundler misses those that are no modules, and the font's own licence beside that of the package. */
const fonts: Readonly<Record<string, readonly string[]>> = {
  window: ['@fontsource-variable/ibm-plex-sans'],
  main: ['@expo-google-fonts/ibm-plex-sans', '@expo-google-fonts/noto-sans-symbols'],
};

/** A plugin that writes `out/notices/<build>.txt`: name, version, licence and its text for every package taken in. */
export function licenceNotices(build: 'main' | 'window') {
  return license({
    thirdParty: {
      includePrivate: false,
      output: {
        file: fileURLToPath(new URL(`out/notices/${build}.txt`, project)),
        template: (dependencies) => {
          const own = fonts[build] ?? [];
          const modules = dependencies.filter(({ name }) => !own.includes(name ?? ''));
          return [...modules.map(noticeOf), ...own.map(fontNotice)].sort().join('\n\n');
        },
      },
    },
  });
}

function noticeOf({ name, version, license: name_, licenseText, noticeText }: Dependency): string {
  return entry(
    name ?? '?',
    version ?? '?',
    name_ ?? licenceInText(licenseText),
    [licenseText, noticeText].filter(Boolean).join('\n'),
  );
}

/** A manifest may name no licence; its text then says which one it is. */
function licenceInText(text: string | null): string {
  return text?.trimStart().startsWith('MIT License') ? 'MIT' : '?';
}

function fontNotice(name: string): string {
  const folder = new URL(`node_modules/${name}/`, project);
  const { version, license: licence } = JSON.parse(readFileSync(new URL('package.json', folder), 'utf8')) as {
    readonly version: string;
    readonly license: string;
  };
  const texts = ['LICENSE', 'LICENSE_FONT']
    .map((file) => new URL(file, folder))
    .filter((file) => existsSync(file));
  return entry(name, version, licence, texts.map((file) => readFileSync(file, 'utf8').trim()).join('\n\n'));
}

function entry(name: string, version: string, licence: string, text: string): string {
  return `${name} ${version}\nLicence: ${licence}\n\n${text.trim() || 'The package brings no text of its licence; the licence named above applies.'}\n\n${'-'.repeat(72)}`;
}
