import { writeFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import { replay } from '@trueloop/job/record'
import * as fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { checkJob, openJob, runChain } from '../chain/index.ts'
import { demoJob } from '../chain/testing/demo-job.ts'
import { checkBundle, comparedWith, openBundle, readBundle, writeBundle } from './index.ts'
import { listed, pack, unpack, without } from './testing/forged.ts'
import { type Home, makeHome } from './testing/home.ts'
import { addSignedJob } from './testing/signed-job.ts'
import { addSmallJob, codeOf, got, keptIn, plainJob, preparedWithPhoto, type SmallJob } from './testing/small-job.ts'

let home: Home
beforeEach(() => {
  home = makeHome()
})
afterEach(() => home.end())

const few = ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav']

async function demoIn(name: string) {
  const archive = await home.archive(name)
  const sheet = demoJob(home.folder, few)
  const { refusals } = await runChain({ sheet, folder: home.folder, archive })
  expect(refusals).toEqual([])
  return { archive, job: sheet.job.id }
}

describe('a job out and in again', () => {
  it('of the demonstration comes out with the same bytes, verified, and can be examined again', async () => {
    const { archive, job } = await demoIn('archive')
    const first = await home.exported(archive, job, 'first.zip')
    const other = await home.archive('other')
    const imported = got(await readBundle(other, home.path('first.zip')))
    expect(imported).toMatchObject({ job, standing: 'not here', added: imported.theirs.count, originals: few.length })
    expect(imported.otherwise).toEqual([])
    expect(got(await other.entries(job))).toEqual(got(await archive.entries(job)))
    expect((await home.exported(other, job, 'second.zip')).equals(first)).toBe(true)
    expect(got(await checkJob(other, job, { again: true }))).toMatchObject({
      intact: { holds: true },
      replayed: { holds: true, count: 2 }
    })
  })

  it('takes the photo of a preparation along, and misses it where it is gone', async () => {
    const archive = await home.archive()
    const sheet = demoJob(home.folder, few.slice(0, 1))
    writeFileSync(home.path('wall.jpg'), 'pixels')
    const done = { by: 'C', on: '2026-03-14' }
    const preparation = { cleaned: done, deburred: 'yes' as const, visual: 'nothing', photo: home.path('wall.jpg') }
    const holes = sheet.holes.map((hole, at) => (at === 0 ? { ...hole, preparation } : hole))
    got(await openJob({ sheet: { ...sheet, holes }, folder: home.folder, archive }))
    const { job } = sheet
    const files = unpack(await home.exported(archive, job.id))
    const other = await home.archive('other')
    expect(got(await readBundle(other, home.path('job.zip')))).toMatchObject({ originals: 1 })
    expect(got(await checkJob(other, job.id, {})).intact.holds).toBe(true)
    const photo = files.find(({ bytes }) => Buffer.from(bytes).toString() === 'pixels')
    writeFileSync(home.path('bare.zip'), pack(listed(without(files, photo!.name))))
    expect(codeOf(await openBundle(home.path('bare.zip')))).toBe('bundle/missing-file')
  })

  it('can be verified and examined again without importing it', async () => {
    const { archive, job } = await demoIn('archive')
    await home.exported(archive, job)
    const bundle = got(await openBundle(home.path('job.zip')))
    const end = got(await archive.end(job))
    expect(await checkBundle(bundle, { again: true, printed: end })).toMatchObject({
      intact: { holds: true, entriesSincePrinted: 0 },
      replayed: { holds: true, count: 2 }
    })
    const foreign = await checkBundle(bundle, { printed: { count: 1, head: 'f'.repeat(64) } })
    expect(foreign.intact.faults.map(({ place }) => place)).toEqual(['entry 0'])
    await bundle.close()
  })

  const text = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 })
  const recordings = fc.uniqueArray(fc.record({ file: text, bytes: fc.uint8Array({ maxLength: 300 }) }), {
    maxLength: 4,
    selector: ({ bytes }) => Buffer.from(bytes).toString('hex')
  })
  const jobs: fc.Arbitrary<SmallJob> = fc.record(
    { job: text, component: text, recordings, documents: fc.array(fc.jsonValue(), { maxLength: 3 }), corrected: text },
    { requiredKeys: ['job', 'component', 'recordings', 'documents'] }
  )

  it('comes out with the same bytes, whatever the job is called and holds', async () => {
    let count = 0
    await fc.assert(
      fc.asyncProperty(jobs, async (small) => {
        const round = `${count++}`
        const archive = await home.archive(`from-${round}`)
        await addSmallJob(archive, small)
        const first = await home.exported(archive, small.job)
        const other = await home.archive(`to-${round}`)
        expect(got(await readBundle(other, home.path('job.zip'))).added).toBe(got(await archive.end(small.job)).count)
        expect((await home.exported(other, small.job, 'again.zip')).equals(first)).toBe(true)
        expect(got(await checkJob(other, small.job, {})).intact.holds).toBe(true)
      }),
      { numRuns: 40 }
    )
  })

  it('takes an original that is a ZIP itself as the bytes it is', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    const bytes = await home.exported(archive, plainJob.job)
    const nested = { ...plainJob, job: 'S-2', recordings: [{ file: 'inner.zip', bytes }] }
    await addSmallJob(archive, nested)
    await home.exported(archive, nested.job, 'outer.zip')
    const other = await home.archive('other')
    got(await readBundle(other, home.path('outer.zip')))
    expect(got(await other.jobs()).map(({ id }) => id)).toEqual(['S-2'])
  })
})

describe('a job that people have signed', () => {
  it('comes in with every signature, over the states they had before their eyes', async () => {
    const archive = await home.archive()
    await addSignedJob(archive)
    const first = await home.exported(archive, 'S-4')
    const other = await home.archive('other')
    expect(got(await readBundle(other, home.path('job.zip')))).toMatchObject({ standing: 'not here', added: 6 })
    expect((await home.exported(other, 'S-4', 'again.zip')).equals(first)).toBe(true)
    expect(got(await checkJob(other, 'S-4', {})).intact.holds).toBe(true)
  })
})

describe('a photo', () => {
  it('goes along as an original', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    const end = got(await archive.end(plainJob.job))
    got(await archive.append(plainJob.job, end.count, [await preparedWithPhoto(archive, Buffer.from('pixels'))]))
    await home.exported(archive, plainJob.job)
    const other = await home.archive('other')
    expect(got(await readBundle(other, home.path('job.zip'))).originals).toBe(3)
    expect(got(await checkJob(other, plainJob.job, {})).intact.holds).toBe(true)
  })
})

describe('a drawing', () => {
  it('goes along as an original, under its name, and is there on the other side with its places', async () => {
    const archive = await home.archive()
    writeFileSync(home.path('panel.svg'), '<svg/>')
    const sheet = demoJob(home.folder, few.slice(0, 1))
    const [hole] = sheet.holes
    const places = [{ name: hole?.id ?? '', x: 0.25, y: 0.5, page: 1 }]
    const drawn = { ...sheet, drawings: [{ file: home.path('panel.svg'), places }] }
    got(await openJob({ sheet: drawn, folder: home.folder, archive }))
    const { id } = sheet.job
    const files = unpack(await home.exported(archive, id))
    const other = await home.archive('other')
    expect(got(await readBundle(other, home.path('job.zip')))).toMatchObject({ originals: 1 })
    expect(got(await checkJob(other, id, {})).intact.holds).toBe(true)
    const [drawing] = replay(got(await other.entries(id))).drawings
    expect(drawing).toMatchObject({ entry: { file: 'panel.svg', form: 'image/svg+xml' }, places })
    const own = files.find(({ bytes }) => Buffer.from(bytes).toString() === '<svg/>')
    writeFileSync(home.path('bare.zip'), pack(listed(without(files, own!.name))))
    expect(codeOf(await openBundle(home.path('bare.zip')))).toBe('bundle/missing-file')
  })
})

describe('a job that is here already', () => {
  const rest = async (from: Awaited<ReturnType<Home['archive']>>, file: string) => {
    const { count } = got(await from.end(plainJob.job))
    const entry = await keptIn(from, { file, bytes: Buffer.from(file) })
    got(await from.append(plainJob.job, count, [entry]))
  }

  it('is left alone where it is the same or has more, and brought up to theirs where it has less', async () => {
    const [mine, theirs] = [await home.archive('mine'), await home.archive('theirs')]
    await addSmallJob(theirs, plainJob)
    await home.exported(theirs, plainJob.job, 'old.zip')
    expect(got(await readBundle(mine, home.path('old.zip')))).toMatchObject({ standing: 'not here', added: 4 })
    expect(got(await readBundle(mine, home.path('old.zip')))).toMatchObject({ standing: 'the same', added: 0 })
    await rest(theirs, 'later.csv')
    const grown = await home.exported(theirs, plainJob.job, 'new.zip')
    expect(got(await readBundle(mine, home.path('new.zip')))).toMatchObject({
      ...{ standing: 'ours is older', common: 4, added: 1, originals: 1 }
    })
    expect((await home.exported(mine, plainJob.job, 'mine.zip')).equals(grown)).toBe(true)
    expect(got(await readBundle(mine, home.path('old.zip')))).toMatchObject({ standing: 'theirs is older', added: 0 })
    expect(got(await mine.end(plainJob.job)).count).toBe(5)
  })

  it('and went another way is refused with both heads, and stays as it is', async () => {
    const [mine, theirs] = [await home.archive('mine'), await home.archive('theirs')]
    await addSmallJob(theirs, plainJob)
    await home.exported(theirs, plainJob.job, 'old.zip')
    got(await readBundle(mine, home.path('old.zip')))
    await rest(mine, 'mine.csv')
    await rest(theirs, 'theirs.csv')
    await home.exported(theirs, plainJob.job, 'forked.zip')
    const before = got(await mine.entries(plainJob.job))
    const no = await readBundle(mine, home.path('forked.zip'))
    expect(codeOf(no)).toBe('bundle/forked')
    const heads = [got(await mine.end(plainJob.job)).head, got(await theirs.end(plainJob.job)).head]
    for (const head of heads) expect(isRefusal(no) && no.found).toContain(head)
    expect(got(await mine.entries(plainJob.job))).toEqual(before)
    const bundle = got(await openBundle(home.path('forked.zip')))
    expect(got(await comparedWith(mine, bundle))).toMatchObject({ standing: 'forked', common: 4 })
    await bundle.close()
  })
})

describe('writing', () => {
  it('is refused for a job that is not there', async () => {
    const archive = await home.archive()
    expect(codeOf(await writeBundle(archive, { job: 'X' }, { write: async () => undefined }))).toBe(
      'bundle/no-such-job'
    )
  })

  it('gives the report as PDF where there is a way to, and imports it unseen', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    const parts: Uint8Array[] = []
    const pdf = async () => Buffer.from('%PDF-invented')
    got(await writeBundle(archive, { job: plainJob.job, pdf }, { write: async (bytes) => void parts.push(bytes) }))
    home.written('with-pdf.zip', Buffer.concat(parts))
    const bundle = got(await openBundle(home.path('with-pdf.zip')))
    expect(bundle.measured.get('reports/report.pdf')?.bytes).toBe(13)
    expect(bundle.otherwise).toEqual([])
    await bundle.close()
  })
})
