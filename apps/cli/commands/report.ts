import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { type Report, reportOf } from '@trueloop/host/chain'
import { Command } from 'commander'
import { dataFolder, fileNameOf } from '../home.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'
import { save } from '../work/saving.ts'

const example = `
Examples:
  trueloop report DEMO-1
  trueloop report DEMO-1 --pdf
  trueloop report DEMO-1 --out report.pdf
  trueloop report DEMO-1 --out - > report.html

What was not examined comes first. The end of the record's chain is printed on it: verify --head checks it.`

interface Options {
  readonly out?: string
  readonly pdf?: boolean
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('report')
    .description('Writes the report of a job: one HTML document that can be printed, and the same as PDF.')
    .argument('<job>', 'number of the job')
    .option(
      '--out <file>',
      'where to write it: .html, or .pdf for that alone; - for standard output; else into the data folder'
    )
    .option('--pdf', 'the same as PDF beside it, with the record inside')
    .option('--json', 'one JSON document, report/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string, { out, pdf = false, json = false }: Options) => {
      const written = await writeReport(job, { out, pdf })
      if (out === '-' && written.refusals.length === 0) return
      const { refusals, file, pdf: print } = written
      const files = [file, print].filter((path) => path !== undefined)
      say({
        document: 'report/1',
        json,
        refusals,
        text: files.map((path) => `report: ${path}`),
        data: { job, ...(file && { file }), ...(print && { pdf: print }) }
      })
    })

interface Writing {
  readonly out?: string | undefined
  readonly pdf?: boolean
  readonly home?: string
}

/** The paths that were written, and what was refused: a report without its PDF is still a report. */
interface Written {
  readonly file?: string
  readonly pdf?: string
  readonly refusals: readonly Refusal[]
}

/** Writes the report of a job as HTML, and as PDF where that is asked for. */
export async function writeReport(job: string, { out, pdf = false, home = dataFolder() }: Writing): Promise<Written> {
  const report = await withArchive((archive) => reportIn(archive, job), home)
  if (isRefusal(report)) return { refusals: [report] }
  if (out === '-') return toStandardOutput(report, pdf)
  const path = out ?? join(home, 'reports', `${fileNameOf(job)}.html`)
  if (isPdf(path)) return pdfTo(path, report)
  const file = await save(path, report.html())
  if (isRefusal(file)) return { refusals: [file] }
  return pdf ? { file, ...(await pdfTo(`${path.replace(/\.html?$/i, '')}.pdf`, report)) } : { file, refusals: [] }
}

const isPdf = (path: string): boolean => /\.pdf$/i.test(path)

async function pdfTo(path: string, report: Report): Promise<Written> {
  const bytes = await report.pdf()
  const saved = isRefusal(bytes) ? bytes : await save(path, bytes)
  return isRefusal(saved) ? { refusals: [saved] } : { pdf: saved, refusals: [] }
}

/** One stream holds one document. */
async function toStandardOutput(report: Report, pdf: boolean): Promise<Written> {
  const content = pdf ? await report.pdf() : report.html()
  if (typeof content !== 'string' && isRefusal(content)) return { refusals: [content] }
  process.stdout.write(content)
  return { refusals: [] }
}

async function reportIn(archive: Archive, job: string): Promise<Result<Report>> {
  const report = await reportOf(archive, job)
  return report === undefined ? noSuchJob(archive, job) : report
}
