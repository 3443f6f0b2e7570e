import { spawn } from 'node:child_process'
import { makeFolder } from '@trueloop/host/folder'
import { archiveFolder } from '../home.ts'
import { interrupted, workbench } from '../terminal/process.ts'
import { line } from '../terminal/say.ts'
import { crewBeside } from './crew.ts'
import { claim, type Running, running, unclaim } from './runs-here.ts'

export interface Serving {
  readonly home: string
  readonly port: number
  /** page to open first, for instance `/jobs/DEMO-1` */
  readonly path?: string
  readonly browse: boolean
  /** only of the demonstration: the passphrase of its invented people, which is no secret */
  readonly demonstration?: { readonly passphrase: string }
  /** folder that is watched for recordings */
  readonly watch?: string
}

/**
 * Serves the record on loopback until interrupted; people sign in there and decide. Where a service runs for this data
 * folder already, says where, and leaves it at that.
 */
export async function serveRecord(serving: Serving): Promise<void> {
  const { home, port, path = '/', browse } = serving
  await makeFolder(home)
  const before = await running(home)
  if (before !== undefined) return toOther(before, serving)
  const service = await serviceFor(serving)
  const { listenFrom } = await import('@trueloop/service')
  const address = await listenFrom(service, port)
  const first = await claim(home, address)
  if (first !== undefined) {
    await service.close()
    return toOther(first, serving)
  }
  line(`the record is at ${address}${path}  (Ctrl-C ends it)`)
  if (browse && isSeen()) openBrowser(`${address}${path}`)
  if (!interrupted.aborted)
    await new Promise((resolve) => interrupted.addEventListener('abort', resolve, { once: true }))
  await service.close()
  await unclaim(home)
}

async function serviceFor({ home, demonstration, watch }: Serving) {
  const { archiveSource, buildService, Desk, HeldArchive } = await import('@trueloop/service')
  const archive = new HeldArchive(archiveFolder(home))
  const crew = crewBeside()
  const desk = new Desk({
    ...{ home, archive },
    ...(demonstration === undefined ? {} : { demonstration }),
    ...(watch === undefined ? {} : { watch: { folder: watch } }),
    ...(crew === undefined ? {} : { crew })
  })
  const { folder } = workbench
  return buildService(archiveSource(archive), { desk, ...(folder === undefined ? {} : { workbench: folder }) })
}

function toOther({ pid, address }: Running, { path = '/', browse, watch }: Serving): void {
  line(`the record is shown already, by process ${pid}, at ${address}${path}  (use that page; this start has ended)`)
  if (watch !== undefined)
    line(`${watch} is not watched by this start: end process ${pid} first (Ctrl-C there), then start again`)
  if (browse && isSeen()) openBrowser(`${address}${path}`)
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
