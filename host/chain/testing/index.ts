/** For the tests of the doors: a small job of the demonstration, and what holds of an archive that was stopped. */
export { demoJob } from './demo-job.ts'
export { falseNames, got, withArchive } from './laws.ts'
