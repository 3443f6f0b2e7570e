/** Made from /api/openapi.json by client.test.ts: see there. Types only; nothing of it runs. */

export interface paths {
    readonly "/api/jobs": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** How all jobs stand, in short */
        readonly get: operations["jobs"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** How a job stands */
        readonly get: operations["job"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/places/{of}/{name}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** One place of a job */
        readonly get: operations["place"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/examinations/{hash}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** One stored examination, with its picture */
        readonly get: operations["examination"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/examinations/{hash}/preview": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** What an examination was made from, but for the bytes of the recording */
        readonly get: operations["preview"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/examinations/{hash}/wall": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** Signal of a hole as judged, unrolled: head of 256 bytes, then x and y as 32-bit floats */
        readonly get: operations["wall"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/documents/{hash}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** A document that the record names, word for word */
        readonly get: operations["document"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/recordings/{hash}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** An original recording, unchanged */
        readonly get: operations["recording"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/drawings/{hash}": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** A drawing or photo of the component, unchanged */
        readonly get: operations["drawing"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/session": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** Who has signed in here, and who may */
        readonly get: operations["session"];
        readonly put?: never;
        /** Opens a person's key, in the memory of this service */
        readonly post: operations["signIn"];
        /** Locks the key */
        readonly delete: operations["lock"];
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/pace": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** When people have decided today, and how long without a break */
        readonly get: operations["pace"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/service": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** Which process answers here */
        readonly get: operations["service"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/statements": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly get?: never;
        readonly put?: never;
        /** States what a person decides, signed; sent twice it is recorded once */
        readonly post: operations["state"];
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/events": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** What happens to a job, as server-sent events: entry, head, progress, watch. Last-Event-ID is the number of the last entry seen */
        readonly get: operations["events"];
        readonly put?: never;
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/watch": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        /** What lies in the watched folder */
        readonly get: operations["watch"];
        readonly put?: never;
        /** Says which place the next recording in the watched folder is of */
        readonly post: operations["expect"];
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/recordings": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly get?: never;
        /** Takes in one recording (application/octet-stream), and examines it */
        readonly put: operations["upload"];
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
    readonly "/api/jobs/{job}/drawings": {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly get?: never;
        /** Takes in a drawing or photo (application/octet-stream) */
        readonly put: operations["bring"];
        readonly post?: never;
        readonly delete?: never;
        readonly options?: never;
        readonly head?: never;
        readonly patch?: never;
        readonly trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        readonly Pace: {
            /** @description as 2026-03-14: today, by the clock of this computer */
            readonly day: string;
            /** @description a gap of so many minutes counts as a break (common practice, no source) */
            readonly break_min: number;
            readonly people: readonly {
                readonly name: string;
                readonly decisions: readonly {
                    readonly at: string;
                    readonly kind: string;
                    /** @enum {string} */
                    readonly of: "hole" | "track" | "loop";
                    readonly place: string;
                }[];
                /** @description longest stretch without a break */
                readonly longest?: {
                    readonly from: string;
                    readonly until: string;
                    readonly minutes: number;
                };
                /** @description the stretch of the last decision */
                readonly latest?: {
                    readonly from: string;
                    readonly until: string;
                    readonly minutes: number;
                };
            }[];
        };
        readonly IntakeFile: {
            readonly file: string;
            /**
             * @description lies there: since before the watch, and not recorded; recorded: known by its content; waits: nobody has said which place it is of; passed over: it is no recording of this job
             * @enum {string}
             */
            readonly state: "being written" | "lies there" | "recorded" | "waits" | "being read" | "complete" | "scan again" | "passed over";
            readonly subject?: {
                /** @enum {string} */
                readonly of: "hole" | "track" | "loop";
                readonly name: string;
            } | {
                /** @enum {string} */
                readonly of: "reference" | "recheck";
            } | {
                /** @constant */
                readonly of: "parent";
                /** @description track beside which it lies */
                readonly track: string;
            };
            /** @description why it has to be scanned again, or was passed over */
            readonly why: readonly {
                /** @description room and reason; never changes its meaning */
                readonly code: string;
                readonly found: string;
                readonly needed: string;
                /** @description what to do */
                readonly remedy: string;
                readonly where?: {
                    readonly file?: string;
                    readonly line?: number;
                    readonly column?: number;
                    readonly byte?: number;
                    readonly sample?: number;
                    /** @description place inside a document, such as recordings[3].hole */
                    readonly path?: string;
                };
            }[];
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly recording?: string;
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly examination?: string;
            /** @description it was recorded before, and nothing was added */
            readonly before?: boolean;
            /** @description when this became so: ISO 8601 */
            readonly at: string;
        };
        readonly Watch: {
            /** @description false: the service was started without a folder to watch */
            readonly watches: boolean;
            readonly job?: string;
            /** @description what the next file is of; absent: nobody has said */
            readonly expects?: {
                /** @enum {string} */
                readonly of: "hole" | "track" | "loop";
                readonly name: string;
            } | {
                /** @enum {string} */
                readonly of: "reference" | "recheck";
            } | {
                /** @constant */
                readonly of: "parent";
                /** @description track beside which it lies */
                readonly track: string;
            };
            /** @description who scans */
            readonly by?: string;
            /** @description why the folder can not be looked at */
            readonly trouble?: {
                /** @description room and reason; never changes its meaning */
                readonly code: string;
                readonly found: string;
                readonly needed: string;
                /** @description what to do */
                readonly remedy: string;
                readonly where?: {
                    readonly file?: string;
                    readonly line?: number;
                    readonly column?: number;
                    readonly byte?: number;
                    readonly sample?: number;
                    /** @description place inside a document, such as recordings[3].hole */
                    readonly path?: string;
                };
            };
            /** @description the latest ones, the newest last */
            readonly files: readonly components["schemas"]["IntakeFile"][];
        };
        readonly Watching: {
            /** @description what the next file is of; null: what comes waits */
            readonly expects: ({
                /** @enum {string} */
                readonly of: "hole" | "track" | "loop";
                readonly name: string;
            } | {
                /** @enum {string} */
                readonly of: "reference" | "recheck";
            } | {
                /** @constant */
                readonly of: "parent";
                /** @description track beside which it lies */
                readonly track: string;
            }) | null;
            /** @description name of a file that lies in the folder since before the watch, to be taken as that */
            readonly take?: string;
        };
        readonly Session: {
            /** @description who has signed in here; absent: nobody */
            readonly person?: {
                readonly name: string;
                /** @enum {string} */
                readonly level: "I" | "II" | "III";
                /** @description last day on which this person may sign */
                readonly until?: string;
                /** @description when the key is locked by itself if nothing is asked until then: ISO 8601 */
                readonly locks: string;
                /** @description what falls due within a month */
                readonly due: readonly {
                    /** @description certificate, or near vision */
                    readonly of: string;
                    /** @description last day on which it holds */
                    readonly until?: string;
                    readonly left_days?: number;
                }[];
            };
            /** @description a key that nothing is asked of for so long is locked */
            readonly idle_min: number;
            /** @description false: nobody is registered in this archive, and nobody can sign */
            readonly registers: boolean;
            readonly people: readonly {
                readonly name: string;
                /** @enum {string} */
                readonly level: "I" | "II" | "III";
                /** @description may sign in here today */
                readonly may: boolean;
                /** @description the key file lies on this computer */
                readonly key: boolean;
                /** @description what has run out, or is not in force yet */
                readonly why?: string;
            }[];
            /** @description only where the service shows the demonstration */
            readonly demonstration?: {
                /** @description of every invented person: no secret */
                readonly passphrase: string;
            };
        };
        readonly SigningIn: {
            readonly name: string;
            readonly passphrase: string;
        };
        readonly Statement: {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "decide";
            /** @description name of the hole, track or loop */
            readonly place: string;
            readonly classes?: readonly {
                readonly indication: string;
                /** @enum {string} */
                readonly class: "false" | "nonrelevant" | "damage, not a crack" | "relevant";
            }[];
            /** @enum {string} */
            readonly disposition?: "no recordable indication" | "clean-up ream" | "reject" | "refer";
            /** @description of a clean-up ream */
            readonly size_mm?: number;
            readonly reason?: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "look again";
            /** @description name of the hole, track or loop */
            readonly place: string;
            readonly agrees: boolean;
            readonly reason?: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "withdraw";
            /** @description id of the own entry that is taken back */
            readonly entry: string;
            readonly reason: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "close places";
            readonly places: readonly string[];
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "leave out";
            readonly places: readonly string[];
            readonly reason: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "cut";
            /** @description name of the hole, track or loop */
            readonly place: string;
            readonly aimed_mm: number;
            readonly tool?: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "note";
            /** @description name of the hole, track or loop */
            readonly place: string;
            readonly text: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "place on a drawing";
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly drawing: string;
            readonly marks: readonly {
                /** @description name of the hole, track or loop */
                readonly place: string;
                /** @description absent: the place is taken off the drawing */
                readonly at?: {
                    /** @description share of the width, from the left */
                    readonly x: number;
                    /** @description share of the height, from above */
                    readonly y: number;
                    /** @description page of a PDF; else 1 */
                    readonly page: number;
                };
            }[];
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "hand over";
            readonly to: string;
            readonly note: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "take over";
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "close job";
            readonly remarks?: string;
        } | {
            /** @description made by the page for this statement: sent twice it is recorded once */
            readonly id: string;
            /** @description how many entries the record had when the person looked: what came since is looked at first */
            readonly seen: number;
            /** @constant */
            readonly what: "open job again";
            readonly reason: string;
        };
        readonly Stated: {
            /**
             * @description already: it had been sent before, and nothing was added
             * @enum {string}
             */
            readonly recorded: "now" | "already";
            readonly entries: readonly {
                readonly seq: number;
                readonly id: string;
                readonly kind: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            }[];
            /** @description the places that it is about, as they stand now */
            readonly places: readonly components["schemas"]["PlaceDetail"][];
            /** @description arithmetic that was recorded with it */
            readonly lines?: readonly string[];
            /** @description entries of the record: what to send as "seen" next */
            readonly count: number;
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly head: string;
        };
        readonly JobBrief: {
            readonly job: string;
            readonly component: string;
            readonly demonstration: boolean;
            readonly confirmed: string;
            readonly counts: readonly {
                /** @enum {string} */
                readonly state: "not examined" | "voided by a recheck" | "relevant, not decided" | "undecided" | "ream and re-inspect" | "refer" | "reject" | "examined, no relevant indication" | "no recordable indication, decided";
                readonly count: number;
            }[];
            /** @description the list of the job against what was scanned of it */
            readonly counted: {
                readonly listed: number;
                readonly scanned: number;
                readonly without: readonly string[];
            };
            readonly redo: readonly {
                readonly place: string;
                readonly files: readonly string[];
                readonly why: readonly string[];
            }[];
            /** @description places that had left the hands on scans that are void since */
            readonly nonconformances: readonly {
                readonly place: string;
                /** @enum {string} */
                readonly had: "been closed" | "been delivered";
                readonly at: string;
                readonly why: readonly string[];
                readonly examinedAgain: boolean;
            }[];
            /** @description places that are practice: how many, and whether they are marked */
            readonly practice?: {
                readonly count: number;
                readonly marked: boolean;
            };
            /**
             * @description a person states a class before they are told what is proposed
             * @constant
             */
            readonly classFirst?: true;
            /** @description something waits for a person */
            readonly waiting: boolean;
            readonly entries: number;
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly head: string;
        };
        readonly JobSummary: {
            readonly job: string;
            readonly component: string;
            readonly demonstration: boolean;
            readonly confirmed: string;
            readonly counts: readonly {
                /** @enum {string} */
                readonly state: "not examined" | "voided by a recheck" | "relevant, not decided" | "undecided" | "ream and re-inspect" | "refer" | "reject" | "examined, no relevant indication" | "no recordable indication, decided";
                readonly count: number;
            }[];
            /** @description the list of the job against what was scanned of it */
            readonly counted: {
                readonly listed: number;
                readonly scanned: number;
                readonly without: readonly string[];
            };
            readonly redo: readonly {
                readonly place: string;
                readonly files: readonly string[];
                readonly why: readonly string[];
            }[];
            /** @description places that had left the hands on scans that are void since */
            readonly nonconformances: readonly {
                readonly place: string;
                /** @enum {string} */
                readonly had: "been closed" | "been delivered";
                readonly at: string;
                readonly why: readonly string[];
                readonly examinedAgain: boolean;
            }[];
            /** @description places that are practice: how many, and whether they are marked */
            readonly practice?: {
                readonly count: number;
                readonly marked: boolean;
            };
            /**
             * @description a person states a class before they are told what is proposed
             * @constant
             */
            readonly classFirst?: true;
            /** @description something waits for a person */
            readonly waiting: boolean;
            readonly entries: number;
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly head: string;
            /** @description values of the set-up that nobody knows: sizes and proposals are withheld */
            readonly setUpUnknown: readonly string[];
            readonly places: readonly {
                /** @enum {string} */
                readonly of: "hole" | "track" | "loop";
                readonly name: string;
                /** @enum {string} */
                readonly state: "not examined" | "voided by a recheck" | "relevant, not decided" | "undecided" | "ream and re-inspect" | "refer" | "reject" | "examined, no relevant indication" | "no recordable indication, decided";
                /** @description its set-up has not been checked by a good recheck yet */
                readonly provisional: boolean;
                readonly zonesExamined: number;
                readonly zones: number;
                readonly relevant: number;
                readonly undecided: number;
                /** @description above the alarm level, whatever they were classed as */
                readonly aboveAlarm: number;
                /** @description why it, or a part of it, was not examined or is void */
                readonly why: readonly string[];
                /** @description what waits for a person or for another scan: the place can not be closed */
                readonly open: readonly string[];
                /** @description the examination that stands for the place; absent where none does */
                readonly latest?: string;
            }[];
            /** @description what has been demonstrated for this set-up; absent: nobody has shown how small a flaw it finds */
            readonly capability?: {
                readonly words: string;
                readonly source: string;
                readonly by: string;
            };
            /** @description drawings and photos of the component */
            readonly drawings: readonly {
                /** @description of its bytes */
                readonly sha256: string;
                readonly file: string;
                /** @enum {string} */
                readonly form: "image/png" | "image/jpeg" | "image/svg+xml" | "application/pdf";
                /** @description of the entry by which it came */
                readonly id: string;
                readonly title?: string;
                /** @description who brought it */
                readonly by: string;
                /** @description where places lie on it */
                readonly places: readonly {
                    /** @enum {string} */
                    readonly of: "hole" | "track" | "loop";
                    readonly name: string;
                    /** @description share of the width, from the left */
                    readonly x: number;
                    /** @description share of the height, from above */
                    readonly y: number;
                    /** @description page of a PDF; else 1 */
                    readonly page: number;
                }[];
            }[];
            readonly rechecks: readonly {
                readonly file: string;
                readonly passed: boolean;
                readonly voids: readonly string[];
            }[];
            /** @description files of rechecks and reference scans that nobody has judged */
            readonly unjudged: readonly string[];
        };
        readonly PlaceDetail: {
            /** @enum {string} */
            readonly of: "hole" | "track" | "loop";
            readonly name: string;
            /** @enum {string} */
            readonly state: "not examined" | "voided by a recheck" | "relevant, not decided" | "undecided" | "ream and re-inspect" | "refer" | "reject" | "examined, no relevant indication" | "no recordable indication, decided";
            /** @description its set-up has not been checked by a good recheck yet */
            readonly provisional: boolean;
            readonly zonesExamined: number;
            readonly zones: number;
            readonly relevant: number;
            readonly undecided: number;
            /** @description above the alarm level, whatever they were classed as */
            readonly aboveAlarm: number;
            /** @description why it, or a part of it, was not examined or is void */
            readonly why: readonly string[];
            /** @description what waits for a person or for another scan: the place can not be closed */
            readonly open: readonly string[];
            /** @description the examination that stands for the place; absent where none does */
            readonly latest?: string;
            readonly job: string;
            /** @enum {string} */
            readonly application: "fastener hole" | "weld" | "loop";
            /**
             * @description notch: 1 = the named notch
             * @enum {string}
             */
            readonly amplitudeUnit: "notch" | "recorded";
            /** @description what the job sheet says of the place */
            readonly listed: {
                readonly diameter_mm?: number;
                readonly grip_mm?: number;
                readonly edge_distance_mm?: number;
                readonly nearest_hole_mm?: number;
                readonly at?: {
                    readonly x_mm: number;
                    readonly y_mm: number;
                };
                readonly interfaces_mm?: readonly number[];
                readonly layers?: readonly string[];
                /** @description zones that the technique asks for, whatever is examined */
                readonly zones?: readonly string[];
                readonly length_mm?: number;
                /** @description of a track, as a person states it */
                readonly coating_mm?: number;
                readonly ends_with_plate?: boolean;
                readonly surface?: string;
                readonly oversize_step?: string;
                readonly demagnetized?: {
                    readonly by: string;
                    readonly on: string;
                } | string;
                readonly heat_treatment?: string | readonly string[];
            };
            readonly indications: readonly {
                readonly id: string;
                /**
                 * @description class, cause and crossing are not told: this person states a class first
                 * @constant
                 */
                readonly hidden?: true;
                /**
                 * @description a person's class, or without one the proposed one
                 * @enum {string}
                 */
                readonly class: "false" | "nonrelevant" | "damage, not a crack" | "relevant" | "undecided";
                /** @enum {string} */
                readonly proposed: "false" | "nonrelevant" | "damage, not a crack" | "relevant" | "undecided";
                readonly decided?: {
                    /** @description id of the entry */
                    readonly entry: string;
                    readonly by: string;
                    readonly at: {
                        /** @description ISO 8601 */
                        readonly time: string;
                        /** @enum {string} */
                        readonly known: "clock of this computer" | "in the recording" | "job sheet";
                    };
                    readonly reason?: string;
                    /** @enum {string} */
                    readonly class: "false" | "nonrelevant" | "damage, not a crack" | "relevant";
                    /** @description stated before the person was shown the proposal */
                    readonly beforeProposal: boolean;
                };
                readonly crossedAlarm: boolean;
                /** @description waits for a person or for another scan */
                readonly open: boolean;
                /** @enum {string} */
                readonly standing: "confirmed" | "seen again" | "not seen again" | "not scanned again" | "not scanned again after cleaning" | "closed as false by proposal";
                /** @description what the scans say of it together */
                readonly says: string;
                /** @description place in "seen" of the strongest sighting */
                readonly strongest: number;
                readonly seen: readonly {
                    readonly id: string;
                    /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                    readonly recording: string;
                    readonly file: string;
                    /** @description place among the scans of this place */
                    readonly at: number;
                    /** @enum {string} */
                    readonly after?: "cleaned and entered again" | "other sense" | "second probe" | "second frequency";
                    /** @description why this scan may neither confirm nor close anything */
                    readonly discounted?: string;
                    /** @enum {string} */
                    readonly class: "false" | "nonrelevant" | "damage, not a crack" | "relevant" | "undecided";
                    readonly amplitude: number;
                    readonly crossedAlarm: boolean;
                    readonly zone: string;
                    readonly sizeWithheld: boolean;
                    readonly cause?: string;
                    readonly angle_rad?: number;
                    readonly z_m?: number;
                    readonly z0_m?: number;
                    readonly z1_m?: number;
                    /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                    readonly examination: string;
                    /** @description turned against the technique's sense: its angles run the other way */
                    readonly reversed: boolean;
                }[];
                readonly unseen: readonly {
                    /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                    readonly recording: string;
                    readonly file: string;
                    readonly at: number;
                    /** @enum {string} */
                    readonly after?: "cleaned and entered again" | "other sense" | "second probe" | "second frequency";
                    /** @description the scan counts, and examined the zone that it lies in */
                    readonly looked: boolean;
                }[];
            }[];
            readonly examinations: readonly {
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly examination: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly recording: string;
                readonly file: string;
                /** @description name of the document, or "none" */
                readonly standardization: string;
                readonly method: number;
                readonly standing: {
                    /** @constant */
                    readonly standing: "certain";
                    readonly closedBy: string;
                } | {
                    /** @constant */
                    readonly standing: "provisional";
                    readonly why: string;
                } | {
                    /** @constant */
                    readonly standing: "voided";
                    readonly why: string;
                    readonly by?: string;
                } | {
                    /** @constant */
                    readonly standing: "no set-up to check";
                };
                readonly zones: readonly {
                    readonly zone: string;
                    /** @enum {string} */
                    readonly state: "examined" | "not examined";
                    /** @description share of the zone */
                    readonly covered: number;
                    readonly why: readonly string[];
                }[];
                readonly indications: number;
                /** @description codes */
                readonly refusals: readonly string[];
                /** @enum {string} */
                readonly after?: "cleaned and entered again" | "other sense" | "second probe" | "second frequency";
                /** @enum {string} */
                readonly setUp?: "other sense" | "second probe" | "second frequency";
                readonly standardDiameter_mm?: number;
            }[];
            /** @description scans of the wall before the last cut: they count for nothing now */
            readonly beforeCut: readonly {
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly examination: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly recording: string;
                readonly file: string;
                /** @description name of the document, or "none" */
                readonly standardization: string;
                readonly method: number;
                readonly standing: {
                    /** @constant */
                    readonly standing: "certain";
                    readonly closedBy: string;
                } | {
                    /** @constant */
                    readonly standing: "provisional";
                    readonly why: string;
                } | {
                    /** @constant */
                    readonly standing: "voided";
                    readonly why: string;
                    readonly by?: string;
                } | {
                    /** @constant */
                    readonly standing: "no set-up to check";
                };
                readonly zones: readonly {
                    readonly zone: string;
                    /** @enum {string} */
                    readonly state: "examined" | "not examined";
                    /** @description share of the zone */
                    readonly covered: number;
                    readonly why: readonly string[];
                }[];
                readonly indications: number;
                /** @description codes */
                readonly refusals: readonly string[];
                /** @enum {string} */
                readonly after?: "cleaned and entered again" | "other sense" | "second probe" | "second frequency";
                /** @enum {string} */
                readonly setUp?: "other sense" | "second probe" | "second frequency";
                readonly standardDiameter_mm?: number;
            }[];
            /** @description zones that no standing examination covers */
            readonly missing: readonly {
                readonly zone: string;
                readonly why: readonly string[];
            }[];
            readonly disposition?: {
                /** @description id of the entry */
                readonly entry: string;
                readonly by: string;
                readonly at: {
                    /** @description ISO 8601 */
                    readonly time: string;
                    /** @enum {string} */
                    readonly known: "clock of this computer" | "in the recording" | "job sheet";
                };
                readonly reason?: string;
                /** @enum {string} */
                readonly disposition: "no recordable indication" | "clean-up ream" | "reject" | "refer";
            };
            readonly looks: readonly {
                /** @description id of the entry */
                readonly entry: string;
                readonly by: string;
                readonly at: {
                    /** @description ISO 8601 */
                    readonly time: string;
                    /** @enum {string} */
                    readonly known: "clock of this computer" | "in the recording" | "job sheet";
                };
                readonly reason?: string;
                /** @description id of the entry looked at */
                readonly of: string;
                readonly agrees: boolean;
            }[];
            /** @description what people wanted to be read beside the place */
            readonly notes: readonly {
                /** @description id of the entry */
                readonly entry: string;
                readonly by: string;
                readonly at: {
                    /** @description ISO 8601 */
                    readonly time: string;
                    /** @enum {string} */
                    readonly known: "clock of this computer" | "in the recording" | "job sheet";
                };
                readonly reason?: string;
                readonly text: string;
            }[];
            readonly leftOut?: {
                /** @description id of the entry */
                readonly entry: string;
                readonly by: string;
                readonly at: {
                    /** @description ISO 8601 */
                    readonly time: string;
                    /** @enum {string} */
                    readonly known: "clock of this computer" | "in the recording" | "job sheet";
                };
                readonly reason?: string;
            };
            readonly closed?: {
                /** @description id of the entry */
                readonly entry: string;
                readonly by: string;
                readonly at: {
                    /** @description ISO 8601 */
                    readonly time: string;
                    /** @enum {string} */
                    readonly known: "clock of this computer" | "in the recording" | "job sheet";
                };
                readonly reason?: string;
            };
            readonly reaming?: {
                readonly measured_mm: readonly (readonly number[])[];
                readonly removed?: {
                    readonly least_mm: number;
                    readonly most_mm: number;
                };
                readonly open: readonly string[];
            };
        };
        readonly StoredExamination: {
            readonly job: string;
            /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
            readonly examination: string;
            /** @enum {string} */
            readonly of: "hole" | "track" | "loop";
            readonly name: string;
            readonly document: {
                /** @constant */
                readonly kind: "examination";
                /** @constant */
                readonly version: 1;
                readonly method: number;
                /** @enum {string} */
                readonly application: "fastener hole" | "weld" | "loop";
                readonly subject: string;
                /** @enum {string} */
                readonly amplitudeUnit: "notch" | "recorded";
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly recording: string;
                /** @description name of the document, or "none" */
                readonly standardization: string;
                readonly position: {
                    readonly axial: string;
                    readonly axialUncertainty_m: number | "unknown";
                    /** @enum {string} */
                    readonly angle: "clock" | "relative angle" | "position" | "unknown";
                    /** @description ruler position, revolutions */
                    readonly entry?: number;
                    readonly exit?: number;
                    readonly pitch_m?: number;
                };
                readonly zones: readonly {
                    readonly zone: string;
                    readonly z0_m: number;
                    readonly z1_m: number;
                    /** @enum {string} */
                    readonly state: "examined" | "not examined";
                    readonly covered: number;
                    readonly why: readonly string[];
                    readonly signalToNoise?: number;
                }[];
                readonly coverage: {
                    readonly samples: number;
                    readonly revolutions: number;
                    readonly revolutionsInMetal: number;
                    readonly contact: readonly {
                        readonly check: string;
                        readonly found: string;
                        readonly needed: string;
                        readonly met: boolean;
                    }[];
                    readonly speed?: {
                        readonly least: number;
                        readonly mean: number;
                        readonly most: number;
                        readonly unit: string;
                    };
                };
                readonly dropped: readonly {
                    readonly from: number;
                    readonly to: number;
                    /** @enum {string} */
                    readonly unit: "revolution" | "m" | "sample";
                    readonly samples: number;
                    readonly reason: string;
                }[];
                readonly noise?: {
                    readonly matched: number;
                    readonly threshold: number;
                    readonly alarm: number;
                    readonly points: number;
                    /** @description modelled, not shown */
                    readonly falseCalls?: number;
                };
                readonly oversize?: {
                    readonly diameter_m: number;
                    readonly outOfRound_m: number;
                    readonly standard_m: number;
                    readonly wider_m: number;
                    readonly doubt_m: number;
                    readonly gauge: string;
                    readonly basis: string;
                    readonly gap_m?: {
                        readonly centered: number;
                        readonly most: number;
                    };
                    readonly loss_dB?: {
                        readonly centered: number;
                        readonly most: number;
                    };
                    readonly alarm?: number;
                };
                readonly coating?: {
                    /** @enum {string} */
                    readonly basis: "measured" | "given" | "unknown";
                    readonly given_mm?: number;
                    readonly apparent?: {
                        readonly least_mm?: number;
                        readonly median_mm?: number;
                        /** @description absent where some of the track lies above the thickest shim */
                        readonly greatest_mm?: number;
                        readonly medianOfSamples_mm?: number;
                        /** @description share of the places above the thickest shim */
                        readonly aboveShims: number;
                        readonly points: readonly {
                            readonly at_m: number;
                            readonly mean_mm: number;
                        }[];
                    };
                    readonly parent?: {
                        /** @constant */
                        readonly kind: "parent metal";
                        readonly recording: string;
                        readonly length_mm: number;
                        readonly coating?: {
                            readonly least_mm: number;
                            readonly median_mm: number;
                            readonly greatest_mm: number;
                        };
                        readonly liftOff: {
                            readonly off_rad: number;
                            readonly doubt_rad: number;
                        };
                    };
                    /** @description "recorded", or why parent metal tells nothing */
                    readonly parentWhy: string;
                    readonly shims_mm: readonly number[];
                };
                readonly indications: readonly {
                    readonly id: string;
                    readonly zone: string;
                    readonly layer: number;
                    /** @enum {string} */
                    readonly place: "corner" | "mid-bore" | "track" | "unknown";
                    readonly amplitude: number;
                    readonly matched: number;
                    readonly phase_rad: number;
                    readonly lobeOrder: 1 | -1;
                    readonly angle_rad: number | "unknown";
                    readonly z_m: number | "unknown";
                    readonly z0_m: number | "unknown";
                    readonly z1_m: number | "unknown";
                    readonly ruler: number;
                    readonly revolutions: number;
                    readonly signalToNoise: number;
                    readonly crossedAlarm: boolean;
                    /** @enum {string} */
                    readonly class: "false" | "nonrelevant" | "damage, not a crack" | "relevant" | "undecided";
                    readonly cause?: string;
                    readonly evidence: readonly {
                        readonly what: string;
                        readonly sentence: string;
                        /** @enum {string} */
                        readonly speaks: "for" | "against" | "neither";
                    }[];
                    /** @description coating that it lies under, along a track; confirmed by parent metal beside it, or not */
                    readonly coating?: {
                        /** @enum {string} */
                        readonly basis: "measured" | "given";
                        readonly mm: number;
                        readonly confirmed: boolean;
                    };
                    readonly measured?: {
                        readonly amplitude: number;
                        /** @enum {string} */
                        readonly place: "corner" | "mid-bore" | "track";
                        readonly extent_m?: number;
                        readonly cutAt?: string;
                        readonly rows?: {
                            readonly z_m: readonly number[];
                            readonly x: readonly number[];
                            readonly y: readonly number[];
                        };
                        readonly noise?: {
                            readonly xx: number;
                            readonly yy: number;
                        } & {
                            readonly [key: string]: unknown;
                        };
                        readonly faces?: {
                            readonly from_mm: number;
                            readonly to_mm: number;
                        };
                    };
                    readonly size: {
                        readonly depth: string;
                        readonly depth_mm?: number;
                        readonly lower_mm?: number;
                        readonly upper_mm?: number;
                        readonly level?: number;
                        readonly basis?: string;
                        /** @description notch-equivalent, where the depth is that of a crack */
                        readonly equivalent?: {
                            readonly depth_mm?: number;
                            readonly lower_mm?: number;
                            readonly upper_mm?: number;
                        };
                        readonly ratio?: {
                            readonly name: string;
                            readonly ratio: number;
                            readonly spread: number;
                            readonly cracks: number;
                            readonly source: string;
                            readonly approved: string;
                        };
                        readonly extent: string;
                        readonly extent_mm?: number;
                        readonly length?: string;
                        readonly length_mm?: number;
                        readonly length_lower_mm?: number;
                        readonly length_upper_mm?: number;
                        readonly footprint_mm?: number;
                        /** @description reasons for which no size is stated */
                        readonly withheld: readonly string[];
                        readonly why?: readonly {
                            /** @constant */
                            readonly refused: true;
                            /** @description room and reason; never changes its meaning */
                            readonly code: string;
                            readonly found: string;
                            readonly needed: string;
                            /** @description what to do */
                            readonly remedy: string;
                            readonly where?: {
                                readonly file?: string;
                                readonly line?: number;
                                readonly column?: number;
                                readonly byte?: number;
                                readonly sample?: number;
                                /** @description place inside a document, such as recordings[3].hole */
                                readonly path?: string;
                            };
                        }[];
                    };
                    readonly proposal: string;
                    /** @description the loop, and the matched output along the axis at the angle of the peak */
                    readonly snippet: {
                        readonly step: number;
                        /** @enum {string} */
                        readonly stepUnit: "rad" | "m" | "s";
                        readonly x: readonly number[];
                        readonly y: readonly number[];
                        readonly along: readonly number[];
                        readonly alongFrom: number;
                    };
                }[];
                readonly refusals: readonly {
                    /** @constant */
                    readonly refused: true;
                    /** @description room and reason; never changes its meaning */
                    readonly code: string;
                    readonly found: string;
                    readonly needed: string;
                    /** @description what to do */
                    readonly remedy: string;
                    readonly where?: {
                        readonly file?: string;
                        readonly line?: number;
                        readonly column?: number;
                        readonly byte?: number;
                        readonly sample?: number;
                        /** @description place inside a document, such as recordings[3].hole */
                        readonly path?: string;
                    };
                }[];
                readonly notes: readonly string[];
            };
            /** @description the wall unrolled; absent where the archive keeps none any more */
            readonly picture?: {
                readonly rows: number;
                readonly columns: number;
                /** @description Row by row along the axis, the largest matched output in each. Cells that nobody looked at are 0, as quiet ones are: the zones say what was examined. */
                readonly values: readonly number[];
                /** @description first row, in revolutions of the ruler */
                readonly rowFrom: number;
                /** @description revolutions in a row */
                readonly rowStep: number;
            };
        };
        readonly Refusals: {
            readonly refusals: readonly {
                /** @description room and reason; never changes its meaning */
                readonly code: string;
                readonly found: string;
                readonly needed: string;
                /** @description what to do */
                readonly remedy: string;
                readonly where?: {
                    readonly file?: string;
                    readonly line?: number;
                    readonly column?: number;
                    readonly byte?: number;
                    readonly sample?: number;
                    /** @description place inside a document, such as recordings[3].hole */
                    readonly path?: string;
                };
            }[];
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    readonly jobs: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": readonly components["schemas"]["JobBrief"][];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly job: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["JobSummary"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly place: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                readonly of: "hole" | "track" | "loop";
                /** @description name of the hole, track or loop */
                readonly name: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["PlaceDetail"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly examination: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["StoredExamination"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly preview: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": {
                        /** @description how messages name the recording */
                        readonly name: string;
                        readonly bytes: number;
                        /** @description columns of the recording, and what their numbers mean */
                        readonly mapping: {
                            readonly [key: string]: unknown;
                        };
                        /** @description application, and all that its examination is opened with */
                        readonly recipe: {
                            readonly [key: string]: unknown;
                        };
                    };
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly wall: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": string;
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly document: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": string;
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly recording: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": string;
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly drawing: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
                /** @description hex SHA-256: the name of a document, a recording or the end of a chain */
                readonly hash: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": string;
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly session: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Session"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly signIn: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly requestBody: {
            readonly content: {
                readonly "application/json": components["schemas"]["SigningIn"];
            };
        };
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Session"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly lock: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Session"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly pace: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Pace"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly service: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path?: never;
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": {
                        /** @description number of the process on this computer */
                        readonly pid: number;
                    };
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly state: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody: {
            readonly content: {
                readonly "application/json": components["schemas"]["Statement"];
            };
        };
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Stated"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 409: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly events: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": string;
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly watch: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Watch"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly expect: {
        readonly parameters: {
            readonly query?: never;
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody: {
            readonly content: {
                readonly "application/json": components["schemas"]["Watching"];
            };
        };
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Watch"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly upload: {
        readonly parameters: {
            readonly query: {
                readonly of: "hole" | "track" | "loop" | "reference" | "recheck" | "parent";
                /** @description of the hole, track or loop; of parent metal, of the track beside it */
                readonly name?: string;
                /** @description name of the file, for the record: no path */
                readonly file: string;
            };
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["IntakeFile"];
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
    readonly bring: {
        readonly parameters: {
            readonly query: {
                /** @description name of the file */
                readonly file: string;
                /** @description what it shows */
                readonly title?: string;
            };
            readonly header?: never;
            readonly path: {
                /** @description number of the job */
                readonly job: string;
            };
            readonly cookie?: never;
        };
        readonly requestBody?: never;
        readonly responses: {
            /** @description Default Response */
            readonly 200: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": {
                        /** @description of its bytes */
                        readonly sha256: string;
                        readonly file: string;
                        /** @enum {string} */
                        readonly form: "image/png" | "image/jpeg" | "image/svg+xml" | "application/pdf";
                        /** @description of the entry by which it came */
                        readonly id: string;
                        readonly title?: string;
                        /** @description who brought it */
                        readonly by: string;
                        /** @description where places lie on it */
                        readonly places: readonly {
                            /** @enum {string} */
                            readonly of: "hole" | "track" | "loop";
                            readonly name: string;
                            /** @description share of the width, from the left */
                            readonly x: number;
                            /** @description share of the height, from above */
                            readonly y: number;
                            /** @description page of a PDF; else 1 */
                            readonly page: number;
                        }[];
                    };
                };
            };
            /** @description Default Response */
            readonly 400: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 401: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 403: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 404: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 413: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 415: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 421: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 422: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 500: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
            /** @description Default Response */
            readonly 503: {
                headers: {
                    readonly [name: string]: unknown;
                };
                content: {
                    readonly "application/json": components["schemas"]["Refusals"];
                };
            };
        };
    };
}
