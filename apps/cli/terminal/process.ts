import { type Exit, exit } from '../exit.ts'

/** What this process shares with every command: how it will end. One process runs one command. */

const ending = new AbortController()

/** Set by the command that ran. */
export const outcome: { exit: Exit } = { exit: exit.done }

/** Where the built entry `worker` lies: set by the built program, beside which it lies. */
export const worker: { program?: URL } = {}

/** Where the built workbench lies: set by the built program, beside which it lies. */
export const workbench: { folder?: string } = {}

/** Aborted on Ctrl-C or SIGTERM: a command finishes what it is writing, and stops. */
export const interrupted: AbortSignal = ending.signal

/** To be called once. A second signal ends at once. A closed pipe is no error: the work goes on, unread. */
export function listenForEnd(): { readonly signal: AbortSignal } {
  for (const name of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(name, () => {
      if (ending.signal.aborted) process.exit(exit.interrupted)
      ending.abort()
    })
  }
  for (const stream of [process.stdout, process.stderr]) stream.on('error', ignoreClosedPipe)
  return { signal: ending.signal }
}

function ignoreClosedPipe(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EPIPE') throw error
}
