#!/usr/bin/env node
// Starts the built command line; without a build, says how to make one.
import { existsSync } from 'node:fs';

const built = new URL('../../../out/main/terminal.js', import.meta.url);
if (existsSync(built)) {
  await import(built.href);
} else {
  console.error('hubtrue is not built yet. In the folder of this checkout, run:  npm run build');
  process.exitCode = 2;
}
