using Derivid.Contracts;

namespace Derivid.Api.Http;

/// <summary>Every problem type the service answers with.</summary>
public static class ProblemTypes
{
    /// <summary>The body is not JSON.</summary>
    public static ProblemType MalformedJson { get; } = new(
        "malformed-json", "The body is not well-formed JSON.", 400,
        "The JSON breaks off or goes wrong at line 3, byte 17. Check brackets, quotes and commas there.");

    /// <summary>The body or a query parameter has a wrong shape, an unknown name or a value out of its bounds.</summary>
    public static ProblemType InvalidRequest { get; } = new(
        "invalid-request", "The request does not fit what is allowed.", 400,
        "1 thing to put right; see errors for the place, the value and what is allowed.");

    /// <summary>No key, or one that opens nothing.</summary>
    public static ProblemType KeyRequired { get; } = new(
        "key-required", "A valid key or sign-in is needed.", 401,
        "Send a valid key in the header \"Authorization: Bearer dvd_...\". An administrator gives out keys.");

    /// <summary>The engine is kept from a student who sits an examination.</summary>
    public static ProblemType ExaminationOpen { get; } = new(
        "examination-open", "An examination is open, so nothing is identified for you.", 403,
        "The course \"Organic practical\" is an examination and takes your reports; until its grades are published, nothing is identified for you.");

    /// <summary>The key's role does not reach so far.</summary>
    public static ProblemType ScopeMissing { get; } = new(
        "scope-missing", "The key's role does not reach so far.", 403,
        "This needs the role instructor; yours is student. Ask an administrator for a key with that role.");

    /// <summary>Something students don't see, or don't see yet.</summary>
    public static ProblemType Withheld { get; } = new(
        "withheld", "This is not shown to you, or not yet.", 403,
        "Grades are not published yet.");

    /// <summary>No such thing.</summary>
    public static ProblemType NotFound { get; } = new(
        "not-found", "There is nothing at this address.", 404,
        "No parent is called \"propanoen\". Closest: propanone, propanal.");

    /// <summary>The address does not answer this method.</summary>
    public static ProblemType MethodNotAllowed { get; } = new(
        "method-not-allowed", "The address does not answer this method.", 405,
        "DELETE is not answered here; allowed: GET.");

    /// <summary>The stored identification was made by another version of the model.</summary>
    public static ProblemType ModelVersionDiffers { get; } = new(
        "model-version-differs", "Another version of the model made this identification.", 409,
        "It was made by model 1; this service runs model 2. The stored answer stands and can still be read.");

    /// <summary>A recomputed identification differs from the stored one.</summary>
    public static ProblemType ReplayDiffers { get; } = new(
        "replay-differs", "The recomputed identification differs from the stored one.", 409,
        "Table and model versions agree, and yet the bytes differ. The stored answer stands; please report this.");

    /// <summary>A request for a key, sent again: the key was made, and its secret is shown once.</summary>
    public static ProblemType KeyAlreadyMade { get; } = new(
        ProblemSlugs.KeyAlreadyMade, "This request made its key before.", 409,
        "The key 0123456789abcdef for \"grading script\" was made by this request before. Its secret was in that answer and is kept nowhere; if the answer got lost, revoke the key and make another with a new request.");

    /// <summary>A key was to revoke itself.</summary>
    public static ProblemType OwnKey { get; } = new(
        "own-key", "A key cannot revoke itself.", 409,
        "This is the key you sent. Make another administrator key first, and revoke this one with that.");

    /// <summary>The course is not in a state for it.</summary>
    public static ProblemType CourseStateForbids { get; } = new(
        "course-state-forbids", "The course is not in a state for this.", 409,
        "Grades are published; the course takes no reports any more.");

    /// <summary>Students with a key, a sign-in or unknowns would fall out of a roster.</summary>
    public static ProblemType RosterDropsStudents { get; } = new(
        ProblemSlugs.RosterDropsStudents, "Students who are in it would fall out of the roster.", 409,
        "1 student with a key, a sign-in or unknowns would fall out, or become somebody else; the errors say who. Nothing is changed. If it is meant, send it again with ?dropsStudents=true.");

    /// <summary>The body is too large.</summary>
    public static ProblemType TooLarge { get; } = new(
        "too-large", "The body is too large.", 413,
        "The body may hold at most 65536 bytes here.");

    /// <summary>The body is not said to be plain JSON.</summary>
    public static ProblemType UnsupportedMediaType { get; } = new(
        "unsupported-media-type", "The body is not of a type taken here.", 415,
        "Send the body as application/json in UTF-8, not compressed; this one came as text/plain.");

    /// <summary>A change that names no revision it is meant for.</summary>
    public static ProblemType RevisionRequired { get; } = new(
        "revision-required", "A change must name the revision it is meant for.", 428,
        "Send If-Match with the ETag of the last answer you have, so that nobody's change is overwritten.");

    /// <summary>A change meant for a revision that is no longer the last.</summary>
    public static ProblemType StaleRevision { get; } = new(
        "stale-revision", "It was changed since the revision named.", 412,
        "Fetch it again, look at what was changed, and send yours with the new ETag.");

    /// <summary>A step of curation that the proposal's state does not allow.</summary>
    public static ProblemType WrongStep { get; } = new(
        "wrong-step", "The proposal is not at this step.", 409,
        "The proposal is submitted; only a draft can be changed. A reviewer may hand it back.");

    /// <summary>An author who reviews or releases their own proposal.</summary>
    public static ProblemType SecondPersonNeeded { get; } = new(
        "second-person-needed", "An author may not review or release their own proposal.", 409,
        "You had a hand in this proposal. Ask somebody else, or set Curation:SingleCurator if there is nobody else.");

    /// <summary>Records of a proposal were changed by a version released since.</summary>
    public static ProblemType ProposalOutdated { get; } = new(
        "proposal-outdated", "A version released since changes the same records.", 409,
        "Version 4 changed derivatives propanone-oxime-1 too. Rebase the proposal, look at it and have it reviewed again.");

    /// <summary>A proposal that changes nothing.</summary>
    public static ProblemType NothingProposed { get; } = new(
        "nothing-proposed", "The proposal changes nothing.", 409,
        "The table says all of this already; there is nothing to release.");

    /// <summary>A table that breaks a rule.</summary>
    public static ProblemType TableRulesBroken { get; } = new(
        "table-rules-broken", "The table it would make breaks a rule.", 422,
        "2 errors; see errors for each record, field and value and what is allowed, or the proposal's validation.");

    /// <summary>A range whose clear point lies below its onset.</summary>
    public static ProblemType MeltingRangeReversed { get; } = new(
        "melting-range-reversed", "A range ends below its beginning.", 422,
        "The clear point cannot lie below the onset; write the lower figure first.");

    /// <summary>Two readings that cannot both hold.</summary>
    public static ProblemType ContradictoryReadings { get; } = new(
        "contradictory-readings", "Two readings contradict each other.", 422,
        "The iodoform test is given as positive and as negative. Repeat it and send one outcome, or \"doubtful\".");

    /// <summary>A calibration no working thermometer shows.</summary>
    public static ProblemType ThermometerImplausible { get; } = new(
        "thermometer-implausible", "No working thermometer reads like this.", 422,
        "A standard of 122.4 °C read as 80 °C is off by more than 20 °C; check the reading.");

    /// <summary>No unknowns can be handed out under the rules.</summary>
    public static ProblemType HandOutImpossible { get; } = new(
        "hand-out-impossible", "Unknowns cannot be handed out like this.", 422,
        "No neighbours may share a compound, but a, b, c are all neighbours of each other and need 3 different compounds between them; 2 can be handed out. Have 3 compounds to hand out, or seat some of them apart or take back a pair of neighbours.");

    /// <summary>A derivative that can't be made like this, or had better not be.</summary>
    public static ProblemType PreparationRefused { get; } = new(
        "preparation-refused", "No preparation is given for this.", 422,
        "/milligrams: 2000 mg of the carbonyl compound; 20 to 500 mg is allowed for the 2,4-dinitrophenylhydrazone: 2,4-dinitrophenylhydrazine or what it gives can explode when dry or heated, so little of it should lie together.");

    /// <summary>One idempotency key for two requests.</summary>
    public static ProblemType IdempotencyKeyReused { get; } = new(
        ProblemSlugs.IdempotencyKeyReused, "The idempotency key stands for another request.", 422,
        "\"monday\" was sent before with another address or body; nothing was changed. Use another key.");

    /// <summary>More requests than the settings allow.</summary>
    public static ProblemType TooManyRequests { get; } = new(
        "too-many-requests", "Too many requests in too short a time.", 429,
        "Wait 2 s, then go on more slowly, or send many observations in one batch.");

    /// <summary>As much of one kind of work as the service does at once is under way.</summary>
    public static ProblemType Busy { get; } = new(
        "busy", "Too much of this kind is being worked on.", 503,
        "8 batches of yours, or 32 of everybody's, are worked on or wait already; send this one again in a few seconds, and one after the other.");

    /// <summary>The institution's sign-in cannot be reached, so its tokens cannot be checked.</summary>
    public static ProblemType SignInUnavailable { get; } = new(
        "sign-in-unavailable", "The institution's sign-in cannot be reached.", 503,
        "Your token can't be checked just now; try again in a few seconds, or send a key.");

    /// <summary>The database cannot be reached, so nothing can be stored or fetched.</summary>
    public static ProblemType StorageUnavailable { get; } = new(
        "storage-unavailable", "The database cannot be reached.", 503,
        "Nothing was stored. The same request with ?store=false is still answered; or try again in a few seconds.");

    /// <summary>The reference table is not loaded yet.</summary>
    public static ProblemType NotReady { get; } = new(
        "not-ready", "The reference table is not loaded yet.", 503,
        "The service is starting. Try again in a few seconds.");

    /// <summary>Our fault.</summary>
    public static ProblemType Unexpected { get; } = new(
        "unexpected", "Something went wrong on our side.", 500,
        "The request was not at fault. Quote the traceId when you report this.");

    /// <summary>Those any operation under /api may answer with.</summary>
    public static ProblemType[] Everywhere =>
    [
        InvalidRequest, KeyRequired, NotFound, MethodNotAllowed, TooManyRequests, Unexpected, NotReady,
        SignInUnavailable, StorageUnavailable,
    ];

    /// <summary>All of them, by status, then slug.</summary>
    public static IReadOnlyList<ProblemType> All { get; } =
    [
        InvalidRequest, MalformedJson, KeyRequired, ExaminationOpen, ScopeMissing, Withheld, NotFound,
        MethodNotAllowed, CourseStateForbids, KeyAlreadyMade, ModelVersionDiffers, NothingProposed, OwnKey, ProposalOutdated,
        ReplayDiffers, RosterDropsStudents, SecondPersonNeeded, WrongStep, StaleRevision, TooLarge, UnsupportedMediaType,
        ContradictoryReadings, HandOutImpossible, MeltingRangeReversed, IdempotencyKeyReused, PreparationRefused, TableRulesBroken,
        ThermometerImplausible, RevisionRequired, TooManyRequests, Unexpected, Busy, NotReady,
        SignInUnavailable, StorageUnavailable,
    ];
}
