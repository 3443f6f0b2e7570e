import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { exportFile, type Written } from '@trueloop/host/bundle'
import { pdfWithRecord } from '@trueloop/host/chain'
import { Command } from 'commander'
import { dataFolder, fileNameOf } from '../home.ts'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'

const example = `
Examples:
  trueloop export DEMO-1
  trueloop export DEMO-1 --out DEMO-1.zip --pdf

The ZIP holds record, documents, original recordings, report, schemas, and READ-ME-FIRST.txt, which says how to read and
check all of it without this program. The same record gives the same bytes. verify FILE.zip checks it, import takes it in.`

interface Options {
  readonly out?: string
  readonly pdf?: boolean
  readonly json?: boolean
}

interface Wanted {
  readonly file: string
  readonly pdf: boolean
}

export const command = (): Command =>
  new Command('export')
    .description('Writes the whole of a job into one ZIP, to be handed over or kept.')
    .argument('<job>', 'number of the job')
    .option('--out <file>', 'where to write it; else into the data folder')
    .option('--pdf', 'the report as PDF in it too')
    .option('--json', 'one JSON document, export/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string, { out, pdf = false, json = false }: Options) => {
      const file = out ?? join(dataFolder(), 'bundles', `${fileNameOf(job)}.zip`)
      const written = await withArchive((archive) => write(archive, job, { file, pdf }))
      const said = { document: 'export/1', json }
      if (isRefusal(written)) return void say({ ...said, refusals: [written], text: [], data: { job } })
      say({ ...said, refusals: [], text: textOf(written, file), data: { ...written, file } })
    })

async function write(archive: Archive, job: string, { file, pdf }: Wanted): Promise<Result<Written>> {
  const end = await archive.end(job)
  if (isRefusal(end)) return end
  if (end.count === 0) return noSuchJob(archive, job)
  const progress = progressLine()
  const tell = (bytes: number, of: number) => progress.show(`writing ${Math.floor((100 * bytes) / of)} %`)
  const written = await exportFile(
    archive,
    { job, signal: interrupted, tell, ...(pdf ? { pdf: pdfWithRecord } : {}) },
    file
  )
  progress.clear()
  return written
}

const textOf = ({ job, count, head, files, bytes }: Written, file: string): readonly string[] => [
  `job ${job}: ${files} files, ${bytes} bytes`,
  `chain head ${count}:${head}`,
  `bundle: ${file}`
]
