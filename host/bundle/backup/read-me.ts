/** What stands beside a backup, for whoever finds it without the program. */
export const readMe = `READ ME FIRST
=============

This is a backup of an archive of eddy-current testing: all jobs, as of the time
in backup.json.

  backup.json      the jobs, entries and chain head of each, and all files
  databases/       entries and documents of all jobs, an SQLite database
  originals/       the recordings, untouched

Each file in databases/ and originals/ has the SHA-256 of its bytes as its name:
"sha256sum FILE" must print the name of the file.

  trueloop restore FOLDER --into HOME     puts all of it into an empty folder
  trueloop backup FOLDER --drill          shows that this can be done

Nothing here is encrypted. Keep it where only those can read who may.
`
