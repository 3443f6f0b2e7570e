import type { Examination } from '@trueloop/job/examine'
import { describe, expect, it } from 'vitest'
import { answerOf, columnsOf, foundIn, parcelOf, unpacked } from './parcel.ts'
import type { Task } from './task.ts'

const technique = { name: 'one' }
const taskWith = (input: object, name = 'a'): Task =>
  ({ name, source: { path: name, bytes: 1 }, recipe: { application: 'loop', input } }) as unknown as Task

/** Over a thread's border and back: a copy. */
const sent = <T>(value: T): T => structuredClone(value)

describe('a parcel', () => {
  it('leaves out what is the same object as in the task before, and nothing else', () => {
    const first = taskWith({ technique, hole: { id: '1' }, rate_Hz: 5 })
    const second = taskWith({ technique, hole: { id: '1' }, rate_Hz: 5 }, 'b')
    expect(parcelOf(first, undefined)).toEqual({ task: first, same: [] })
    const parcel = parcelOf(second, first)
    expect(parcel.same).toEqual(['technique'])
    expect(parcel.task.recipe.input).toEqual({ hole: { id: '1' }, rate_Hz: 5 })
  })

  it('is the whole task again on the other side, what was left out as the very object from before', () => {
    const other = { name: 'two' }
    const tasks = [
      taskWith({ technique, hole: { id: '1' } }),
      taskWith({ technique, hole: { id: '2' } }),
      taskWith({ technique: other, hole: { id: '3' } }),
      taskWith({ technique, hole: { id: '4' }, documents: undefined }),
      taskWith({ technique })
    ]
    let [here, there]: (Task | undefined)[] = []
    const arrived = tasks.map((task) => {
      there = unpacked(sent(parcelOf(task, here)), there)
      here = task
      return there
    })
    expect(arrived).toEqual(tasks)
    const techniqueOf = (task: Task | undefined) => (task!.recipe.input as { technique?: object }).technique
    expect(techniqueOf(arrived[1])).toBe(techniqueOf(arrived[0]))
    expect(techniqueOf(arrived[3])).not.toBe(techniqueOf(arrived[0]))
  })
})

describe('an answer', () => {
  const picture = { rows: 1, columns: 3, rowFrom: 0, rowStep: 1, values: [0, 0.25, 7] }
  const wall = { rows: 1, columns: 2, rowFrom: 0, x: Float32Array.of(1, Number.NaN), y: Float32Array.of(-0, 2) }
  const examination = { kind: 'examination', notes: [] } as unknown as Examination

  it('comes back as it was, with its picture and what was asked for beside it', () => {
    const found = { examination: { ...examination, picture }, wall }
    const back = foundIn(sent(answerOf(found)))
    expect(back).toEqual(found)
    expect(JSON.stringify(back)).toBe(JSON.stringify(found))
  })

  it('gives its columns away', () => {
    const answer = answerOf({ examination: { ...examination, picture }, wall })
    const back = foundIn(structuredClone(answer, { transfer: columnsOf(answer) }))
    expect(back).toMatchObject({ examination: { picture }, wall: { x: Float32Array.of(1, Number.NaN) } })
    expect(answer.wall?.x.length).toBe(0)
  })

  it('without a picture, and a refusal, go as they are', () => {
    const found = { examination }
    expect(foundIn(answerOf(found))).toEqual(found)
    const no = { refused: true as const, code: 'test/no', found: '', needed: '', remedy: '' }
    expect(foundIn(answerOf(no))).toBe(no)
  })
})
