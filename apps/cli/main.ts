/** The command line. Only what `--help` needs is loaded before the command is known. */
import { run } from './run.ts'
import { worker } from './terminal/process.ts'

worker.program = new URL('./worker.js', import.meta.url)
process.exitCode = await run(process.argv.slice(2))
