/** Entry of the command line. */
import { problemsOf } from '../../jobs/problems-of.ts';
import { softwareVersion } from '../../software.ts';
import { type CommandLine, readArguments, usage } from './arguments.ts';
import { type Console, createConsole } from './console.ts';
import { diagnoseCommand } from './diagnose-command.ts';
import { reduceCommand } from './reduce-command.ts';

async function run(words: readonly string[], console: Console, signal: AbortSignal): Promise<number> {
  let args: CommandLine;
  try {
    args = readArguments(words);
  } catch (error) {
    for (const { message } of problemsOf(error)) console.error(message);
    return 2;
  }
  switch (args.command) {
    case 'help':
      console.output(usage);
      return 0;
    case 'version':
      console.output(`${softwareVersion}\n`);
      return 0;
    case 'diagnose':
      return await diagnoseCommand(args, console, signal);
    case 'reduce':
      return await reduceCommand(args, console, signal);
  }
}

const interrupt = new AbortController();
process.once('SIGINT', () => interrupt.abort());
process.exitCode = await run(process.argv.slice(2), createConsole(process), interrupt.signal);
