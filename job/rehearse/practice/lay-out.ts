import { type Random, randomFrom } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { Hole, HoleSheet } from '../../plan/index.ts'
import type { PracticeAnswers } from '../../prove/index.ts'
import { canonical } from '../../record/index.ts'
import { shuffled } from '../draw/chance.ts'
import type { PairProbe } from '../scene.ts'
import { type Drawn, drawnHoles, saidOf } from './draw-mix.ts'
import { fileLike, namesAfter } from './naming.ts'
import { noRoom } from './no.ts'
import { type HoleRecording, placesIn, timeBetween } from './places.ts'

/** The sheet and the answers, and of every recording what it is to be made from. */
export interface DrawnMix {
  readonly sheet: HoleSheet
  readonly answers: PracticeAnswers
  readonly recordings: readonly { readonly file: string; readonly seed: number; readonly drawn: Drawn }[]
}

export interface ToDraw {
  readonly sheet: HoleSheet
  readonly count: number
  readonly seed: number
  readonly probe: PairProbe
  readonly hash: (text: string) => string
}

/** What is mixed in and where, all of it by the seed. Refuses rehearse/no-room. */
export function drawnMix({ sheet, count, seed, probe, hash }: ToDraw): Result<DrawnMix> {
  const random = randomFrom(`mixed practice ${seed} ${sheet.job.id}`)
  const drawn = drawnHoles(sheet, count, { probe, random: random.fork('holes') })
  if (drawn === undefined) return noRoom()
  const ids = sheet.holes.map(({ id }) => id)
  const names = namesAfter(ids, count)
  const placed = placedIn(sheet, names, random.fork('places'))
  const places = drawn.map((one, k) => ({ name: names[k]!, flawed: one.flaw !== undefined, what: saidOf(one) }))
  const answers: PracticeAnswers = { trueloop: 'mixed-practice/1', job: sheet.job.id, seed, places }
  const seeds = random.fork('recordings')
  return {
    sheet: {
      ...sheet,
      practice: { count, answers: hash(canonical(answers)) },
      holes: [...sheet.holes, ...drawn.map(({ like }, k) => holeLike(like, names[k]!))],
      recordings: placed.all
    },
    answers,
    recordings: placed.files.map((file, k) => ({ file, seed: seeds.below(1e9), drawn: drawn[k]! }))
  }
}

/** Its geometry and metal; nobody has cleaned or measured it, and it has no place on the drawing. */
const holeLike = ({ at: _at, preparation: _preparation, ...like }: Hole, id: string): Hole => ({ ...like, id })

interface Placed {
  readonly all: HoleSheet['recordings']
  /** in the order of the names */
  readonly files: readonly string[]
}

/** The names in their order along the recordings, each directly after a recording of another hole. */
function placedIn(sheet: HoleSheet, names: readonly string[], random: Random): Placed {
  const { recordings } = sheet
  const after = placesDrawn(placesIn(sheet), names.length, random)
  const files: string[] = []
  const all = recordings.flatMap((one, at) => {
    const here = names.filter((_, k) => after[k] === at)
    if (one.of !== 'hole' || here.length === 0) return [one]
    const made = here.map((hole, k) => {
      const file = fileLike(one, hole, [...recordings.map((each) => each.file), ...files])
      files.push(file)
      const share = (k + 1) / (here.length + 1)
      return { ...recordingLike(one), hole, file, ...takenOf(one, recordings[at + 1], share) }
    })
    return [one, ...made]
  })
  return { all, files }
}

/** Places in order; one is taken again only where there are fewer of them than practice recordings. */
function placesDrawn(places: readonly number[], count: number, random: Random): readonly number[] {
  const rounds = Math.ceil(count / places.length)
  const order = Array.from({ length: rounds }, (_, k) => shuffled(random.fork(`round ${k}`), places)).flat()
  return order.slice(0, count).sort((a, b) => a - b)
}

function recordingLike({ examined_by, order, columns, equipment }: HoleRecording) {
  return {
    of: 'hole' as const,
    ...(examined_by === undefined ? {} : { examined_by }),
    ...(order === undefined ? {} : { order }),
    ...(columns === undefined ? {} : { columns }),
    ...(equipment === undefined ? {} : { equipment })
  }
}

function takenOf(one: HoleRecording, next: HoleSheet['recordings'][number] | undefined, share: number) {
  const taken = timeBetween({ before: one.taken, after: next?.taken, share })
  return taken === undefined ? {} : { taken }
}
