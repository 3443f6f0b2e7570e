import { stat } from 'node:fs/promises'
import { resolve } from 'node:path'
import { isRefusal, type Result, refuser } from '@trueloop/ground/refusal'
import { Command } from 'commander'
import { codes } from '../codes.ts'
import { dataFolder } from '../home.ts'
import { say } from '../terminal/say.ts'
import { portNumber } from '../work/numbers.ts'
import { serveRecord } from '../work/serving.ts'

const refuse = refuser(codes)

const example = `
Example:
  trueloop serve --port 4270
  trueloop serve --watch /media/recordings

Answers on 127.0.0.1 only. People of the register sign in there and decide; commands can work on the archive meanwhile.
Nothing in the watched folder is changed, moved or removed.`

export const command = (): Command =>
  new Command('serve')
    .description('Shows the record as pages in a browser on this computer.')
    .option('--watch <folder>', 'folder into which the instrument writes its recordings')
    .option('--port <number>', 'port to begin with; a taken one moves on', portNumber, 4270)
    .addHelpText('after', example)
    .action(serve)

interface Options {
  readonly port: number
  readonly watch?: string
}

async function serve({ port, watch }: Options): Promise<void> {
  const folder = watch === undefined ? undefined : await folderAt(watch)
  if (folder !== undefined && isRefusal(folder))
    return void say({ document: 'serve/1', json: false, refusals: [folder], text: [], data: {} })
  await serveRecord({ home: dataFolder(), port, browse: true, ...(folder === undefined ? {} : { watch: folder }) })
}

/** Refuses cli/no-folder. */
async function folderAt(path: string): Promise<Result<string>> {
  const folder = resolve(path)
  const found = await stat(folder).catch((error: NodeJS.ErrnoException) => error.code ?? 'unreadable')
  if (typeof found !== 'string' && found.isDirectory()) return folder
  return refuse('cli/no-folder', {
    found: typeof found === 'string' ? `no folder to watch (${found})` : 'a file where a folder is asked for',
    needed: 'the folder into which the instrument writes its recordings',
    remedy: 'correct the path, or make the folder',
    where: { file: folder }
  })
}
