import type { Command } from 'commander'

/** What a command's file provides. */
export interface CommandFile {
  readonly command: () => Command
}

export interface Listed {
  readonly name: string
  readonly summary: string
  readonly load: () => Promise<CommandFile>
}

/** Every command, in the order of the day. One line here, one file in `commands/`. */
export const registry: readonly Listed[] = [
  {
    name: 'register',
    summary: 'keep the registers of people, equipment and procedures',
    load: () => import('./commands/register.ts')
  },
  { name: 'key', summary: 'make, change or replace the key of a person', load: () => import('./commands/key.ts') },
  { name: 'plan', summary: 'check a job sheet and open its job', load: () => import('./commands/plan.ts') },
  { name: 'scan', summary: 'say how a recording would be read', load: () => import('./commands/scan.ts') },
  {
    name: 'standardize',
    summary: 'read the reference scans of a job and judge its rechecks',
    load: () => import('./commands/standardize.ts')
  },
  { name: 'examine', summary: 'examine the recordings of a job', load: () => import('./commands/examine.ts') },
  { name: 'record', summary: 'show the record of a job, or list the jobs', load: () => import('./commands/record.ts') },
  {
    name: 'approve',
    summary: 'approve the technique of a job, signed',
    load: () => import('./commands/approve.ts')
  },
  {
    name: 'decide',
    summary: 'record what a person decides of a place, signed',
    load: () => import('./commands/decide.ts')
  },
  { name: 'close', summary: 'close places, or the whole job, signed', load: () => import('./commands/close.ts') },
  { name: 'hand', summary: 'hand work over, or deliver a report, signed', load: () => import('./commands/hand.ts') },
  {
    name: 'clock',
    summary: 'correct the clock of a record, with the reason',
    load: () => import('./commands/clock.ts')
  },
  { name: 'report', summary: 'write the report of a job', load: () => import('./commands/report.ts') },
  { name: 'verify', summary: 'check that the record is whole', load: () => import('./commands/verify.ts') },
  { name: 'export', summary: 'write a whole job into one file', load: () => import('./commands/export.ts') },
  { name: 'import', summary: 'read a whole job from one file', load: () => import('./commands/import.ts') },
  {
    name: 'backup',
    summary: 'write a backup of the whole archive, or do a drill on it',
    load: () => import('./commands/backup.ts')
  },
  { name: 'restore', summary: 'make the archive again from a backup', load: () => import('./commands/restore.ts') },
  {
    name: 'prove',
    summary: 'say what size of flaw is found, by trials and studies',
    load: () => import('./commands/prove.ts')
  },
  {
    name: 'rehearse',
    summary: 'make a demonstration job with known truth',
    load: () => import('./commands/rehearse.ts')
  },
  { name: 'serve', summary: 'show the record as pages on this computer', load: () => import('./commands/serve.ts') },
  { name: 'demo', summary: 'do all of it once, on a demonstration job', load: () => import('./commands/demo.ts') },
  {
    name: 'validate',
    summary: 'check this program on this machine',
    load: () => import('./commands/validate.ts')
  },
  {
    name: 'trial',
    summary: 'examine the trial recordings and print the score',
    load: () => import('./commands/trial.ts')
  }
]
