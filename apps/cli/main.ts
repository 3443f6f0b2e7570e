/** The command line. Only what `--help` needs is loaded before the command is known. */
import { fileURLToPath } from 'node:url'
import { run } from './run.ts'
import { workbench, worker } from './terminal/process.ts'

worker.program = new URL('./worker.js', import.meta.url)
workbench.folder = fileURLToPath(new URL('../workbench/', import.meta.url))
process.exitCode = await run(process.argv.slice(2))
