import { Command } from 'commander'
import { dataFolder } from '../home.ts'
import { portNumber } from '../work/numbers.ts'
import { serveRecord } from '../work/serving.ts'

const example = `
Example:
  trueloop serve --port 4270

Answers on 127.0.0.1 only. The pages only read; commands can work on the archive meanwhile.`

export const command = (): Command =>
  new Command('serve')
    .description('Shows the record as pages in a browser on this computer.')
    .option('--port <number>', 'port to begin with; a taken one moves on', portNumber, 4270)
    .addHelpText('after', example)
    .action(async ({ port }: { port: number }) => serveRecord({ home: dataFolder(), port, browse: true }))
