import { statSync } from 'node:fs'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import { briefsOf, checkJob, overviewOf, reportHtml } from '@trueloop/host/chain'
import { canonical, type Entry, findings } from '@trueloop/job/record'
import { inventedReport, largeJob, standardized } from '@trueloop/job/record/testing'

/**
 * `scale.entry make|verify|look FOLDER JOBS HOLES`: an archive of invented jobs of so many holes each, made, verified or
 * asked how its jobs stand; times in ms on the last line. With one job its documents and originals are there too, the
 * originals of a few bytes.
 */
const [, , what = '', folder = '', jobs = '1', holes = '2000'] = process.argv
const times: Record<string, number> = {}
/** Others at work on the same cores lengthen the time, not the processor's. */
const cpu: Record<string, number> = {}

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

async function timed<T>(name: string, work: () => Promise<T>): Promise<T> {
  const from = performance.now()
  const before = process.cpuUsage()
  const done = await work()
  times[name] = performance.now() - from
  const { user, system } = process.cpuUsage(before)
  cpu[name] = (user + system) / 1000
  return done
}

const nameOf = (at: number): string => `JOB-${String(at + 1).padStart(3, '0')}`

async function* bytesOf(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text)
}

async function make(archive: Archive): Promise<void> {
  for (let at = 0; at < Number(jobs); at++) {
    const { entries, examinations } = largeJob(nameOf(at), Number(holes))
    for (let from = 0; from < entries.length; from += 200)
      got(await archive.append(nameOf(at), from, entries.slice(from, from + 200)))
    if (jobs !== '1') continue
    for (const one of examinations) got(await archive.storeDocument('examination', findings(one)))
    for (const entry of entries) await keep(archive, entry)
  }
}

async function keep(archive: Archive, entry: Entry): Promise<void> {
  if (entry.kind === 'recording-kept') got(await archive.keepOriginal(bytesOf(entry.file.replace('.csv', ''))))
}

async function check(archive: Archive): Promise<void> {
  const { intact } = await timed('verify', async () => got(await checkJob(archive, nameOf(0), {})))
  if (!intact.holds) throw new Error(JSON.stringify(intact.faults.slice(0, 3)))
  await timed('report', async () => got(await reportHtml(withSetUp(archive), nameOf(0))))
}

/** The set-up of the invented job is a document that no archive would store under its invented name. */
function withSetUp(archive: Archive): Archive {
  const { standardization: hash } = standardized('r')
  const text = canonical(inventedReport().standardizations[0]?.document)
  const document: Archive['document'] = async (name) =>
    name === hash ? { hash, kind: 'standardization', text } : archive.document(name)
  return { ...archive, document }
}

/** The list of jobs, what waits of them, and the places of one of them; then that one once its record has grown. */
async function look(archive: Archive): Promise<void> {
  const last = nameOf(Number(jobs) - 1)
  const briefs = await timed('list', async () => got(await briefsOf(archive)))
  await timed('waits', async () => got(await briefsOf(archive)).filter(({ waiting }) => waiting))
  const one = await timed('job', async () => got(await overviewOf(archive, last)))
  if (briefs.length !== Number(jobs) || one?.places.length !== Number(holes))
    throw new Error('other jobs than were made')
  got(await archive.dropOverview(last))
  await timed('jobGrown', async () => got(await overviewOf(archive, last)))
}

const archive = await timed('open', async () => got(await openArchive(folder)))
await (what === 'make' ? make : what === 'verify' ? check : look)(archive)
await timed('close', () => archive.close())
const peak_MiB = process.resourceUsage().maxRSS / 1024
console.log(JSON.stringify({ times, cpu, peak_MiB, database_MB: statSync(join(folder, 'archive.db')).size / 1e6 }))
