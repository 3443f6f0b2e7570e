import { demoJob } from '../../../host/chain/testing/demo-job.ts'
import { oneHole } from '../../../host/chain/testing/one-hole.ts'

/** Writes the recordings of one hole into a folder. */
export const writeRecordings = (folder: string): void => void demoJob(folder, oneHole)
