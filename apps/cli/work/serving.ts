import { spawn } from 'node:child_process'
import { archiveFolder } from '../home.ts'
import { interrupted, workbench } from '../terminal/process.ts'
import { line } from '../terminal/say.ts'

export interface Serving {
  readonly home: string
  readonly port: number
  /** page to open first, for instance `/jobs/DEMO-1` */
  readonly path?: string
  readonly browse: boolean
  /** only of the demonstration: the passphrase of its invented people, which is no secret */
  readonly demonstration?: { readonly passphrase: string }
}

/** Serves the record on loopback until interrupted; people sign in there and decide. */
export async function serveRecord({ home, port, path = '/', browse, demonstration }: Serving): Promise<void> {
  const { archiveSource, buildService, Desk, HeldArchive, listenFrom } = await import('@trueloop/service')
  const archive = new HeldArchive(archiveFolder(home))
  const desk = new Desk({ home, archive, ...(demonstration === undefined ? {} : { demonstration }) })
  const { folder } = workbench
  const service = buildService(archiveSource(archive), { desk, ...(folder === undefined ? {} : { workbench: folder }) })
  const address = `${await listenFrom(service, port)}${path}`
  line(`the record is at ${address}  (Ctrl-C ends it)`)
  if (browse && isSeen()) openBrowser(address)
  if (!interrupted.aborted)
    await new Promise((resolve) => interrupted.addEventListener('abort', resolve, { once: true }))
  await service.close()
}

/** A browser is opened only where a person sits: a terminal, and a display. */
export function isSeen(env: NodeJS.ProcessEnv = process.env, platform: NodeJS.Platform = process.platform): boolean {
  if (!process.stdout.isTTY || env.CI || env.SSH_CONNECTION) return false
  return platform === 'darwin' || platform === 'win32' || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY)
}

function openBrowser(address: string): void {
  const [command, args] =
    process.platform === 'darwin'
      ? ['open', [address]]
      : process.platform === 'win32'
        ? ['cmd', ['/c', 'start', '', address]]
        : ['xdg-open', [address]]
  const child = spawn(command as string, args as string[], { stdio: 'ignore', detached: true })
  child.on('error', () => undefined)
  child.unref()
}
