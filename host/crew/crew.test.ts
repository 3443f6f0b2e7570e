import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { isDeepStrictEqual } from 'node:util'
import { Worker } from 'node:worker_threads'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { type Crew, type Examined, examineTask, openCrew, type Task } from './index.ts'
import { serve } from './serve.ts'
import { bundledWorker } from './testing/bundled.ts'
import { demoTasks, got } from './testing/demo-tasks.ts'

let program: URL
let odd: URL
const open: Crew[] = []

beforeAll(async () => {
  program = await bundledWorker('host/crew/worker.ts', 'worker')
  odd = await bundledWorker('host/crew/testing/odd-worker.ts', 'odd-worker')
})

afterEach(async () => {
  await Promise.all(open.splice(0).map((crew) => crew.close()))
})

function crewOf(workers: number, of = odd): Crew {
  const crew = openCrew({ program: of, workers })
  open.push(crew)
  return crew
}

const all = async (answers: AsyncIterable<Result<Examined>>): Promise<readonly Result<Examined>[]> => {
  const found: Result<Examined>[] = []
  for await (const one of answers) found.push(one)
  return found
}

/** Nothing of it is read by the odd worker but its name. */
const named = (name: string) => ({ name, recipe: { application: 'loop', input: {} } }) as unknown as Task
const names = (answers: readonly Result<Examined>[]) =>
  answers.map((one) => (isRefusal(one) ? (one.code === 'test/answer' ? one.found : one.code) : 'examined'))

describe('a crew', () => {
  it('finds what one thread finds, to the byte, in the order of the tasks', async () => {
    const tasks = demoTasks(['P01', 'P02', 'P03', 'P04', 'P05'])
    const alone = tasks.map((task) => examineTask(task))
    for (const one of alone) expect(got(one).examination.zones.length).toBeGreaterThan(0)
    expect(alone.flatMap((one) => got(one).examination.indications).length).toBeGreaterThan(0)
    const found = await all(crewOf(2, program).examineAll(tasks))
    expect(found.map((one) => got(one).examination.recording)).toEqual(['P01', 'P02', 'P03', 'P04', 'P05'])
    // to the bit (the sign of a zero, a NaN), and as the text that a document is made of
    expect(isDeepStrictEqual(found, alone)).toBe(true)
    expect(JSON.stringify(found) === JSON.stringify(alone)).toBe(true)
  })

  it('gives what is asked for beside the findings, and changes nothing of them by it', async () => {
    const [task] = demoTasks(['P01']) as [Task]
    const asked = { ...task, asked: { wall: true } }
    const { wall, ...found } = got(await crewOf(1, program).examine(asked))
    expect(isDeepStrictEqual(found, got(examineTask(task)))).toBe(true)
    expect(isDeepStrictEqual(wall, got(examineTask(asked)).wall)).toBe(true)
    expect(wall?.x.length).toBe((wall?.rows ?? 0) * (wall?.columns ?? 0))
    expect(wall?.x.some((value) => value > 0)).toBe(true)
  })

  it('says how far it has come with a recording that is long', async () => {
    const [task] = demoTasks(['P01']) as [Task]
    const bytes = task.source as Uint8Array
    // its samples five times, behind a head that says as many: bytes in a file of this kind, whatever they mean
    const data = bytes.subarray(58)
    const long = new Uint8Array(Buffer.concat([bytes.subarray(0, 58), ...Array.from({ length: 5 }, () => data)]))
    const view = new DataView(long.buffer)
    view.setUint32(4, long.length - 8, true)
    view.setUint32(54, long.length - 58, true)
    const told: number[] = []
    await crewOf(1, program).examine({ ...task, source: long }, (count) => told.push(count))
    expect(told.length).toBe(Math.floor(long.length / 2 ** 20))
    expect(told).toEqual([...told].sort((a, b) => a - b))
    expect(told.every((count) => count > 0 && count <= long.length)).toBe(true)
  })

  it('reads a file as it reads bytes, and refuses what one thread refuses', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'trueloop-crew-'))
    try {
      const [task] = demoTasks(['P01']) as [Task]
      const bytes = task.source as Uint8Array
      const path = join(folder, 'P01.wav')
      writeFileSync(path, bytes)
      const silent = { ...task, source: bytes.slice(0, 20) }
      const from = { ...task, source: { path, bytes: bytes.length } }
      const [read, refused] = await all(crewOf(1, program).examineAll([from, silent]))
      expect(isDeepStrictEqual(read, examineTask(task))).toBe(true)
      expect(refused).toMatchObject({ code: 'scan/truncated-header' })
      expect(refused).toEqual(examineTask(silent))
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it('gives answers in the order of the tasks though later ones are done before', async () => {
    const order = ['slow 1', '2', '3', 'slow 4', '5']
    const crew = crewOf(2)
    const finished: string[] = []
    const answers = order.map(async (name) => {
      const answer = await crew.examine(named(name))
      finished.push(name)
      return answer
    })
    expect(names(await Promise.all(answers))).toEqual(order)
    expect(finished).not.toEqual(order)
    expect(names(await all(crew.examineAll(order.map(named))))).toEqual(order)
  })

  it('lets all its workers work', async () => {
    const tasks = Array.from({ length: 8 }, (_, at) => named(`slow ${at}`))
    const threads = (await all(crewOf(2).examineAll(tasks))).map((one) => (isRefusal(one) ? one.needed : ''))
    expect(new Set(threads).size).toBe(2)
  })

  it('is ready when all its workers are, and each then takes a task', async () => {
    const crew = crewOf(2)
    await crew.ready()
    const answers = await Promise.all(['slow 1', 'slow 2'].map((name) => crew.examine(named(name))))
    expect(new Set(answers.map((one) => (isRefusal(one) ? one.needed : ''))).size).toBe(2)
  })

  it('has no more than two tasks a worker under way, and draws no more than it has room for', async () => {
    const posted = vi.spyOn(Worker.prototype, 'postMessage')
    const crew = crewOf(2)
    const answers = Array.from({ length: 10 }, (_, at) => crew.examine(named(`${at}`)))
    expect(posted).toHaveBeenCalledTimes(4)
    expect(names(await Promise.all(answers))).toEqual([...'0123456789'])
    posted.mockRestore()
    let drawn = 0
    function* tasks() {
      for (; drawn < 20; ) yield named(`${drawn++}`)
    }
    let taken = 0
    for await (const _ of crew.examineAll(tasks())) expect(drawn).toBeLessThanOrEqual(taken++ + crew.window)
    expect(taken).toBe(20)
  })
})

describe('a worker that dies', () => {
  it.each([
    ['exits', 'code 3'],
    ['throws', 'a defect on purpose']
  ])('when it %s refuses the task it was at, and only that one', async (name, why) => {
    const tasks = ['1', name, '2', '3', name, '4'].map(named)
    const found = await all(crewOf(1).examineAll(tasks))
    expect(names(found)).toEqual(['1', 'crew/worker-died', '2', '3', 'crew/worker-died', '4'])
    expect(found[1]).toMatchObject({ found: expect.stringContaining(why), where: { file: name } })
  })

  it('before it began refuses every task, and does not hang', async () => {
    const missing = crewOf(2, pathToFileURL(join(tmpdir(), 'no-such-worker.mjs')))
    await missing.ready()
    const found = await all(missing.examineAll(['1', '2', '3'].map(named)))
    expect(names(found)).toEqual(Array(3).fill('crew/worker-died'))
  })
})

describe('closing', () => {
  it('ends all workers, whatever they are at, and refuses what is not answered', async () => {
    const crew = crewOf(2)
    const answers = ['endless 1', 'endless 2', '3', '4', '5'].map((name) => crew.examine(named(name)))
    await new Promise((resolve) => setTimeout(resolve, 100))
    await crew.close()
    expect(names(await Promise.all(answers))).toEqual(Array(5).fill('crew/closed'))
    expect(names([await crew.examine(named('6'))])).toEqual(['crew/closed'])
    await crew.close()
  })

  it('comes with the signal', async () => {
    const ending = new AbortController()
    const crew = openCrew({ program: odd, workers: 1, signal: ending.signal })
    const answer = crew.examine(named('endless'))
    ending.abort()
    expect(names([await answer])).toEqual(['crew/closed'])
    const late = openCrew({ program: odd, workers: 1, signal: ending.signal })
    expect(names([await late.examine(named('1'))])).toEqual(['crew/closed'])
  })
})

describe('what is refused or wrong', () => {
  it('a recording that can not be read', () => {
    const [task] = demoTasks(['P01']) as [Task]
    const path = join(tmpdir(), 'no-such-recording.wav')
    const found = examineTask({ ...task, source: { path, bytes: 1 } })
    expect(found).toMatchObject({ code: 'crew/unreadable-recording', where: { file: path } })
    const folder = examineTask({ ...task, source: { path: tmpdir(), bytes: 1 } })
    expect(folder).toMatchObject({ code: 'crew/unreadable-recording' })
  })

  it('no workers at all, and a worker that nobody started', () => {
    expect(() => openCrew({ program: odd, workers: 0 })).toThrow('0 workers')
    expect(() => serve(null, examineTask)).toThrow('started by a crew')
  })
})
