/** The command line. Only what `--help` needs is loaded before the command is known. */
import { run } from './run.ts'

process.exitCode = await run(process.argv.slice(2))
