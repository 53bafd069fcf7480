using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Keeps what people typed from sources, and puts what follows from it into proposals.</summary>
/// <remarks>
/// Readings are only added. Those whose proposal was withdrawn are kept and count no more. Two people who send the same line
/// within the same moment may both be told to wait for another; whoever types it next settles it.
/// Errors: every call throws <see cref="DatabaseUnavailableException"/> when the database can't be used just now.
/// </remarks>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes down who typed.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
/// <param name="ids">Makes their ids.</param>
/// <param name="time">The clock.</param>
public sealed class PrintedReadings(DerividDatabase database, AuditTrail audit, IdempotentWrites writes, ResourceIds ids, TimeProvider time)
{
    private static readonly ProposalState[] Draft = [ProposalState.Draft];

    private readonly ProposalWriter _writer = new(audit, time);

    /// <summary>The readings that count, oldest first.</summary>
    /// <param name="sourceKey">Of this source. Missing: null, of all.</param>
    /// <param name="cancellation">Gives up early.</param>
    public Task<List<PrintedReading>> ListAsync(string? sourceKey, CancellationToken cancellation) => database.RunAsync(
        (context, token) => Counting(context).Where(row => sourceKey == null || row.SourceKey == sourceKey).ToListAsync(token), cancellation);

    /// <summary>The readings of one sheet, in the order sent.</summary>
    /// <param name="sheetId">The sheet.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: empty, no such sheet.</returns>
    public Task<List<PrintedReading>> SheetAsync(string sheetId, CancellationToken cancellation) =>
        database.RunAsync((context, token) => SheetAsync(context, sheetId, token), cancellation);

    /// <summary>Finds what an earlier request of the same key sent.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<List<PrintedReading>?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, SheetAsync, cancellation);

    /// <summary>Keeps a sheet, and proposes what follows from it.</summary>
    /// <param name="origin">Who typed it, and why.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <returns>The readings, judged.</returns>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="ProposalRefusedException">The proposal named can't take anything any more; nothing was kept.</exception>
    public async Task<Created<List<PrintedReading>>> SendAsync(
        AuditOrigin origin, IdempotencyKey? key, SentSheet sheet, CancellationToken cancellation)
    {
        try
        {
            return await writes.RunAsync(key, origin, (context, token) => KeepAsync(context, origin, sheet, token), SheetAsync, cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            throw new ProposalRefusedException(new ProposalWrite(ProposalFault.Stale, null));
        }
    }

    private async Task<Creation<List<PrintedReading>>> KeepAsync(
        DerividContext context, AuditOrigin origin, SentSheet sheet, CancellationToken cancellation)
    {
        var proposed = sheet.ProposalId is { } draft
            ? new ProposedTable(sheet.Before, await Proposals.RecordsAsync(context, draft, cancellation), sheet.Before.Version).After
            : sheet.Before;
        var inUse = sheet.ByTwoInUse ? (await Courses.ShelvesInUseAsync(context, null, cancellation)).SelectMany(shelf => shelf).ToHashSet() : [];
        var earlier = ReadingSheet.ByPlace(
            sheet.Before, await Counting(context).Where(row => row.SourceKey == sheet.Source.Key).ToListAsync(cancellation));
        var judged = ReadingJudgement.Of(sheet.Before, proposed, sheet.Source, [.. sheet.Readings.Select(reading => new LineReading(
            reading.Line,
            reading.Value,
            sheet.Locator,
            [.. earlier[SheetPlace.Of(reading.Line)].Where(row => row.ReadBy != origin.Actor)
                .GroupBy(row => row.ReadBy).Select(other => other.Last().ToValue())],
            inUse.Contains((reading.Line.ParentKey, reading.Line.KindKey))))]);
        var (proposalId, acts) = await ProposeAsync(context, origin, sheet, judged.Changes, cancellation);
        var (sheetId, now) = (ids.New(), time.GetUtcNow().UtcDateTime);
        List<PrintedReading> readings =
        [
            .. judged.Lines.Select(line => new PrintedReading
            {
                Id = ids.New(),
                SheetId = sheetId,
                SourceKey = sheet.Source.Key,
                RecordKey = line.Reading.Line.Key,
                Locator = sheet.Locator,
                AsPrinted = line.Reading.Value.AsPrinted,
                ColourKey = line.Reading.Value.ColourKey,
                ReadBy = origin.Actor,
                ReadAtUtc = now,
                TableVersion = sheet.Before.Version,
                Verdict = line.Verdict,
                ProposalId = line.Verdict is ReadingVerdict.Agrees or ReadingVerdict.Differs ? proposalId : null,
            }),
        ];
        await context.InsertAsync(readings, StoredRow.None, cancellation);
        return new Creation<List<PrintedReading>>(
            readings, sheetId, [new AuditedAct("verification.read", "verification/readings/" + sheetId, sheet.Before.Version), .. acts]);
    }

    // Missing: null, nothing follows and no draft was named.
    private async Task<(string? Id, IReadOnlyList<AuditedAct> Acts)> ProposeAsync(
        DerividContext context, AuditOrigin origin, SentSheet sheet, IReadOnlyList<RecordChange> changes, CancellationToken cancellation)
    {
        if (changes.Count == 0)
        {
            return (sheet.ProposalId, []);
        }

        if (sheet.ProposalId is not { } id)
        {
            var made = Proposals.New(ids.New(), sheet.Title, null, sheet.Before.Version, null, origin, time.GetUtcNow().UtcDateTime);
            return (made.Id, [await Proposals.AddAsync(context, made, changes, origin, cancellation)]);
        }

        var seen = await context.Proposals.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, cancellation);
        var written = await _writer.WriteAsync(
            context, id, seen?.Revision ?? 0, new ProposalStep("proposal.change", Draft, row => row.By(origin)),
            (within, after, token) => within.InsertAsync(
                changes.Select(change => Proposals.Proposed(id, change.Kind, change.Key, change.After, origin, after.UpdatedAtUtc)), StoredRow.GivesWay, token),
            cancellation);
        return written.Result.Fault == ProposalFault.None ? (id, written.Acts) : throw new ProposalRefusedException(written.Result);
    }

    private static IQueryable<PrintedReading> Counting(DerividContext context) => context.PrintedReadings.AsNoTracking()
        .Where(row => row.ProposalId == null
            || !context.Proposals.Any(proposal => proposal.Id == row.ProposalId && proposal.State == ProposalState.Withdrawn))
        .OrderBy(row => row.Id);

    private static Task<List<PrintedReading>> SheetAsync(DerividContext context, string sheetId, CancellationToken cancellation) =>
        context.PrintedReadings.AsNoTracking().Where(row => row.SheetId == sheetId).OrderBy(row => row.Id).ToListAsync(cancellation);
}

/// <summary>A sheet as it was filled in.</summary>
/// <param name="Source">The source it was typed from, a record of the version or of the draft.</param>
/// <param name="Locator">Page, table or entry. Missing: null.</param>
/// <param name="Before">The version it is held against: the draft's own, else the current one.</param>
/// <param name="ProposalId">The draft that what follows goes into. Missing: null, a new proposal.</param>
/// <param name="Title">Title of a new proposal.</param>
/// <param name="Readings">What was typed, by the record whose line it is. Shape: at most one a line.</param>
/// <param name="ByTwoInUse">Whether a line that a graded class uses counts only once two people have typed the same.</param>
public sealed record SentSheet(
    Source Source,
    string? Locator,
    ReferenceTable Before,
    string? ProposalId,
    string Title,
    IReadOnlyList<(Derivative Line, PrintedValue Value)> Readings,
    bool ByTwoInUse);

/// <summary>A proposal can't be written; nothing was kept.</summary>
/// <param name="write">Why.</param>
public sealed class ProposalRefusedException(ProposalWrite write) : Exception("The proposal can't take anything.")
{
    /// <summary>Why.</summary>
    public ProposalWrite Write { get; } = write;
}
