import { availableParallelism } from 'node:os'
import { type Crew, openCrew } from '@trueloop/host/crew'
import type { Sheet } from '@trueloop/job/plan'
import { worker } from '../terminal/process.ts'

/**
 * A crew for the scans of a sheet; undefined where it would gain nothing: fewer than two scans, one processor, or no
 * built worker beside the program (the sources under test).
 */
export function crewFor({ recordings }: Sheet, signal: AbortSignal | undefined): Crew | undefined {
  const scans = recordings.filter(({ of }) => of === 'hole' || of === 'track' || of === 'loop').length
  const workers = Math.min(scans, availableParallelism())
  const { program } = worker
  if (program === undefined || workers < 2) return undefined
  return openCrew({ program, workers, ...(signal === undefined ? {} : { signal }) })
}

/** One worker for a service: it examines one recording after the other, and leaves this thread to who asks meanwhile. */
export function crewBeside(): Crew | undefined {
  const { program } = worker
  return program === undefined ? undefined : openCrew({ program, workers: 1 })
}
