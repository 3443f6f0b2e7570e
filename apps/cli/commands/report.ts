import { mkdir, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { reportHtml } from '@trueloop/host/chain'
import { Command } from 'commander'
import { dataFolder, fileNameOf } from '../home.ts'
import { say } from '../terminal/say.ts'
import { unwritable } from '../terminal/unreadable.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'

const example = `
Examples:
  trueloop report DEMO-1
  trueloop report DEMO-1 --out - > report.html

What was not examined comes first. The end of the record's chain is printed on it: verify --head checks it.`

export const command = (): Command =>
  new Command('report')
    .description('Writes the report of a job: one HTML document that can be printed.')
    .argument('<job>', 'number of the job')
    .option('--out <file>', 'where to write it; - for standard output; else into the data folder')
    .option('--json', 'one JSON document, report/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string, { out, json = false }: { out?: string; json?: boolean }) => {
      const made = await writeReport(job, { out })
      const said = { document: 'report/1', json, refusals: [] }
      if (isRefusal(made)) return void say({ ...said, refusals: [made], text: [], data: { job } })
      if (out !== '-') say({ ...said, text: [`report: ${made}`], data: { job, file: made } })
    })

interface Writing {
  readonly out?: string | undefined
  readonly home?: string
}

/** Writes the report of a job; gives its path. */
export async function writeReport(job: string, { out, home = dataFolder() }: Writing): Promise<Result<string>> {
  const html = await withArchive((archive) => reportIn(archive, job), home)
  if (isRefusal(html)) return html
  const path = out ?? join(home, 'reports', `${fileNameOf(job)}.html`)
  if (path === '-') {
    process.stdout.write(html)
    return path
  }
  try {
    await mkdir(dirname(path), { recursive: true })
    await writeFile(path, html)
    return path
  } catch (error) {
    return unwritable(path, error)
  }
}

async function reportIn(archive: Archive, job: string): Promise<Result<string>> {
  const html = await reportHtml(archive, job)
  return html === undefined ? noSuchJob(archive, job) : html
}
