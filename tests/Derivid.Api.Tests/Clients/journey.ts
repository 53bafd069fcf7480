// A class from its roster to its gradebook, through the generated client alone; the test looks at what is printed at the end.
import * as derivid from "./generated/index.js";
import { createClient } from "./generated/client/index.js";

declare const process: { env: Record<string, string> };

const as = (key: string) => createClient({ baseUrl: process.env.DERIVID_ADDRESS, auth: key, throwOnError: true });

const instructor = as(process.env.DERIVID_KEY);
const { data: me } = await derivid.getCurrentKey({ client: instructor, throwOnError: true });
console.error(`signed in as ${me.actor}`);

const { data: course } = await derivid.makeCourse({
    client: instructor, throwOnError: true,
    body: {
        name: "Organic practical",
        shelfList: ["propanone", "butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
        derivativeKinds: ["2,4-DNPH", "semicarbazone"], spotTests: ["Tollens", "iodoform"],
    },
});
const at = { id: course.id };

// A change names the revision it is meant for: the ETag of the last answer.
const revision = async () => (await derivid.getCourse({ client: instructor, path: at, throwOnError: true })).response.headers.get("ETag")!;

await derivid.putRoster({
    client: instructor, throwOnError: true, path: at, headers: { "If-Match": await revision() },
    body: { students: [{ student: "s1", bench: "A", place: 1 }, { student: "s2", bench: "A", place: 2 }] },
});
const { data: made } = await derivid.giveStudentKeys({
    client: instructor, throwOnError: true, path: at, headers: { "If-Match": await revision() }, body: { students: ["s1"] },
});
await derivid.handOutUnknowns({ client: instructor, throwOnError: true, path: at, body: {} });
const { data: unknowns } = await derivid.listAssignments({ client: instructor, throwOnError: true, path: at, query: { identities: true } });
const unknown = unknowns.items.find(each => each.student === "s1")!;

const student = as(made.keys[0].key);
const { data: report } = await derivid.makeReport({
    client: student, throwOnError: true, path: at,
    body: {
        assignment: unknown.code, claimedParent: unknown.parent, reasoning: "It melts there.", isDraft: true,
        observation: {
            derivatives: [{ kind: "2,4-DNPH", meltingRange: { text: "125-127 °C" }, preparation: "recrystallised" }],
            spotTests: [{ test: "iodoform", outcome: "positive" }],
        },
    },
});
const draft = await derivid.getReport({ client: student, throwOnError: true, path: { ...at, reportId: report.id } });
const range = draft.data.observation.derivatives![0].meltingRange!;

// What a GET answers is what a PUT takes.
await derivid.changeReport({
    client: student, throwOnError: true, path: { ...at, reportId: report.id }, headers: { "If-Match": draft.response.headers.get("ETag")! },
    body: { assignment: unknown.code, claimedParent: unknown.parent, reasoning: draft.data.reasoning, observation: draft.data.observation },
});

let { data: grading } = await derivid.gradeReports({ client: instructor, throwOnError: true, path: at, body: {} });
while (grading.state !== "finished") {
    await new Promise(resolve => setTimeout(resolve, 50));
    ({ data: grading } = await derivid.getGrading({ client: instructor, throwOnError: true, path: { ...at, gradingId: grading.id } }));
}

await derivid.publishGrades({
    client: instructor, throwOnError: true, path: at, headers: { "If-Match": await revision() }, body: { grading: grading.id },
});
const { data: book } = await derivid.getGradebook({ client: instructor, throwOnError: true, path: at });
const refused = await derivid.getGrading({ client: student, path: { ...at, gradingId: grading.id }, throwOnError: false });
console.log(JSON.stringify({
    course: course.id, onset: range.onsetCelsius, clear: range.clearPointCelsius, refusal: refused.error?.type,
    gradebook: book.students.map(row => [row.student, row.status, row.percentage]),
}));
