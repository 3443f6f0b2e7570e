/** Every reason for which a command itself refuses. */
export const codes = [
  'cli/unreadable-file',
  'cli/unwritable-file',
  'cli/folder-not-empty',
  'cli/no-trial',
  'cli/no-such-job',
  'cli/no-passphrase',
  'cli/passphrases-differ',
  'cli/no-key',
  'cli/own-registers',
  'cli/no-folder',
  'cli/answers-with-trial',
  'cli/other-form',
  'cli/recording-elsewhere',
  'cli/no-call',
  'cli/no-signal',
  'cli/no-unit',
  'cli/no-counts',
  'cli/no-such-column'
] as const
