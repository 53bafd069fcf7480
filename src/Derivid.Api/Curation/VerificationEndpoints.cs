using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;
using Derivid.Store.Databases;

namespace Derivid.Api.Curation;

/// <summary>The verification desk: values typed from a source, blind to what the table has.</summary>
public static class VerificationEndpoints
{
    private const int LongestCitation = 120;

    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapVerification(this RouteGroupBuilder api)
    {
        var desk = api.MapGroup("/verification").RequireRole(Role.Instructor).WithTags("Curation")
            .ProducesProblems(ProblemTypes.StorageUnavailable);
        desk.MapGet("/sheet", SheetAsync)
            .TakesTurns()
            .WithName("getSheet")
            .WithSummary("Lay out a sheet to be typed from a source")
            .WithDescription(
                "Lines in the order of the book, for whoever has it open: parent, formula and kind, and nothing of what the table "
                + "lists there. With Accept: text/csv a CSV file to be filled in, whose columns as_printed and colour are empty. "
                + "A line is left out once it is settled in this source, or once you have typed it and another person is waited for.")
            .WithQuery<SheetQuery>()
            .Produces<Page<SheetLineItem>>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.WrongStep);
        desk.MapPost("/readings", SendAsync)
            .WithIdempotencyKey()
            .WithName("sendReadings")
            .WithSummary("Send what is printed in a source")
            .WithDescription(
                "As JSON, or as the filled-in CSV file of a sheet (Content-Type: text/csv), whose empty lines are passed over. Every "
                + "reading is kept for good. A value that agrees with a recalled one makes that one read in this source; a value that "
                + "differs, or agrees with another source's, becomes a record beside it. All of it goes into one proposal, to be "
                + "reviewed and released like any other. What a course with unknowns handed out has on its shelf, of a kind it "
                + "makes, follows only once two people have typed the same (one where Curation:SingleCurator is set).")
            .WithQuery<ReadingsQuery>()
            .WithBody<ReadingsRequest>(MediaTypes.Csv)
            .Produces<ReadSheetItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.WrongStep, ProblemTypes.StaleRevision, ProblemTypes.Busy);
        desk.MapGet("/readings/{id}", ReadAsync)
            .WithPath("id", "Names the sheet.")
            .WithName("getReadSheet")
            .WithSummary("Get what became of a sheet you sent")
            .WithDescription("Line by line, with what the table listed there. Only whoever sent it may see it, so that others stay blind.")
            .Produces<ReadSheetItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        desk.MapGet("/worth-checking", WorthAsync)
            .NotInExaminations()
            .TakesTurns()
            .WithName("getWorthChecking")
            .WithSummary("List what is most worth checking")
            .WithDescription(
                "Lines of which no value was read or confirmed, those first whose check is expected to make the most first answers "
                + "right: by how common the compound is, how near others stand, and how far recalled values were off where a "
                + "source could be compared. Each kind of derivative counts alike. No value of the table is told; a sheet may be asked for the "
                + "first of them (first). For unknowns of courses, those count whose staff you are of.")
            .WithQuery<WorthQuery>()
            .Produces<WorthChecking>();
        desk.MapGet("/progress", ProgressAsync)
            .WithName("getVerificationProgress")
            .WithSummary("Tell how far the table is read, source by source")
            .WithDescription("Readings whose proposal was withdrawn don't count.")
            .Produces<VerificationProgress>();
    }

    private static async Task<IResult> SheetAsync(
        HttpContext context, TableSnapshots tables, PrintedReadings readings, Proposals proposals, ProposedTables proposed)
    {
        if (!RequestQuery.Read<SheetQuery>(context.Request).Succeeded(out var query, out var problem)
            || !Pager.Of(context, query with { Cursor = null, Limit = null }, query.Limit ?? SheetQuery.DefaultLimit, query.Cursor, _ => true)
                .Succeeded(out var pager, out problem)
            || !(await BaseAsync(query.SourceKey, query.Proposal, tables, proposals, proposed, context)).Succeeded(out var start, out problem)
            || !KindsOf(query.Kinds, start.Before).Succeeded(out var kinds, out problem))
        {
            return problem;
        }

        var read = await readings.ListAsync(query.SourceKey, context.RequestAborted);
        var lines = ReadingSheet.Of(start.Before, start.Source, read, Caller.Of(context)!.Actor, kinds, query.Order ?? SheetOrder.Name);
        if (query.From is { } name)
        {
            var begins = lines.SkipWhile(line => !FoldedName.Of(line.Parent.Name).StartsWith(FoldedName.Of(name), StringComparison.Ordinal)).ToList();
            if (begins.Count == 0)
            {
                return FieldErrors.One("?from", $"{Text.Quoted(name)} begins the name of no compound of this sheet; the beginning of one is allowed.");
            }

            lines = begins;
        }

        if (query.First is { } most)
        {
            if (!(await tables.FindAsync(start.Before.Version, context.RequestAborted)).Succeeded(out var version, out problem))
            {
                return problem;
            }

            var agreed = CheckingWorth.Agreed(version.Table, await readings.ListAsync(null, context.RequestAborted));
            var first = KnownWorth.Of(version, agreed).Take(most).Select(line => SheetPlace.Of(line.Record)).ToHashSet();
            lines = [.. lines.Where(line => first.Contains(SheetPlace.Of(line.Record)))];
        }

        // Lines may be done since the last page was given, so its last line is looked for among all of them.
        var scope = query.Scope ?? SheetScope.Recalled;
        var total = lines.Count(line => line.IsIn(scope));
        var left = (pager.Beyond is { } beyond ? lines.SkipWhile(line => line.Record.Key != beyond).Skip(1) : lines)
            .Where(line => line.IsIn(scope)).ToList();
        List<SheetLineItem> items = [.. left.Take(pager.Limit).Select(SheetLineItem.Of)];
        context.Response.Headers.CacheControl = "no-store";
        var next = left.Count > items.Count ? pager.NextAfter(items[^1].Key) : null;
        return CsvText.IsWantedBy(context.Request)
            ? CsvText.Answer(context, SheetCsv.Write(items), $"{query.SourceKey}.csv")
            : Reply.Json(new Page<SheetLineItem>(start.Before.Version, total, items, next));
    }

    private static async Task<IResult> SendAsync(
        HttpContext context, TableSnapshots tables, PrintedReadings readings, Proposals proposals, ProposedTables proposed, CurationSettings settings)
    {
        if (!RequestQuery.Read<ReadingsQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await BodyAsync(context)).Succeeded(out var write, out problem))
        {
            return problem;
        }

        // What was taken is answered again, whatever table and proposal have become since.
        if (await readings.MadeByAsync(write.Key, context.RequestAborted) is { } earlier)
        {
            return await AnswerAsync(context, tables, earlier, isNew: false);
        }

        if (!(await BaseAsync(query.SourceKey, query.Proposal, tables, proposals, proposed, context)).Succeeded(out var start, out problem)
            || !Typed(write.Body, start).Succeeded(out var typed, out problem))
        {
            return problem;
        }

        var sheet = new SentSheet(
            start.Source, query.Locator, start.Before, query.Proposal, TitleOf(start.Source, query.Locator), typed,
            ByTwoInUse: !settings.SingleCurator);
        try
        {
            var sent = await readings.SendAsync(write.Origin, write.Key, sheet, context.RequestAborted);
            return await AnswerAsync(context, tables, sent.Value, sent.IsNew);
        }
        catch (ProposalRefusedException refused)
        {
            return ProposalReply.Refused(query.Proposal!, refused.Write);
        }
    }

    private static async Task<IResult> ReadAsync(string id, HttpContext context, TableSnapshots tables, PrintedReadings readings)
    {
        var sheet = ResourceIds.IsWellFormed(id) ? await readings.SheetAsync(id, context.RequestAborted) : [];
        return sheet.Count > 0 && sheet[0].ReadBy == Caller.Of(context)!.Actor
            ? await AnswerAsync(context, tables, sheet, isNew: null)
            : new Problem(ProblemTypes.NotFound, $"You have sent no sheet {Text.Quoted(id)}.");
    }

    private static async Task<IResult> WorthAsync(
        HttpContext context, TableSnapshots tables, PrintedReadings readings, Store.Teaching.Courses courses)
    {
        if (!RequestQuery.Read<WorthQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out problem)
            || !KindsOf(query.Kinds, served.Table).Succeeded(out var kinds, out problem))
        {
            return problem;
        }

        var unknowns = query.Unknowns ?? UnknownsOf.Anyone;
        var agreed = CheckingWorth.Agreed(served.Table, await readings.ListAsync(null, context.RequestAborted));
        var worth = unknowns == UnknownsOf.Anyone
            ? KnownWorth.Of(served, agreed)
            : CheckingWorth.OfShelves(served.Snapshot, await courses.ShelvesInUseAsync(Caller.Of(context)!.Actor, context.RequestAborted), agreed);
        var deviations = CheckingWorth.Deviations(served.Table);
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new WorthChecking(
            served.Table.Version,
            served.ModelVersion,
            unknowns,
            deviations.Count + agreed,
            deviations.Count(celsius => Math.Abs(celsius) > TableAgreement.ConfirmsWithinCelsius),
            CheckingWorth.Unread(served.Table).Count(),
            [.. worth
                .Where(line => kinds.Length == 0 || kinds.Contains(line.Record.KindKey))
                .Take(query.Limit ?? WorthQuery.DefaultLines)
                .Select((line, place) => ItemOf(line, place + 1, served))]));
    }

    private static WorthLineItem ItemOf(LineWorth line, int rank, ServedTable served)
    {
        var (record, parent) = (line.Record, served.ParentByKey[line.Record.ParentKey]);
        return new WorthLineItem(
            rank, record.Key, parent.Key, parent.Name, parent.Formula, record.KindKey, served.Snapshot.Kind(record.KindKey).Kind.Name,
            record.CarbonylsCondensed, record.Form, Math.Round(line.MoreRight, 3));
    }

    private static async Task<IResult> ProgressAsync(HttpContext context, TableSnapshots tables, PrintedReadings readings)
    {
        if (!(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out var problem))
        {
            return problem;
        }

        var table = served.Table;
        var bySource = ReadingSheet.Progress(table, await readings.ListAsync(null, context.RequestAborted));
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new VerificationProgress(
            table.Version,
            ReadingSheet.RecalledLines(table),
            [.. bySource.OrderBy(source => source.Key, StringComparer.Ordinal).Select(source => SourceProgress.Of(table, source))]));
    }

    // A sheet as JSON or as CSV, each with where its lines stand.
    private static async Task<Outcome<WriteRequest<SentReadings>>> BodyAsync(HttpContext context)
    {
        if (!MediaTypes.Of(context.Request, "sheet", MediaTypes.Json, MediaTypes.Csv).Succeeded(out var type, out var problem))
        {
            return problem;
        }

        if (type == MediaTypes.Csv)
        {
            return await CsvAsync(context);
        }

        return (await WriteRequest.ReadAsync<ReadingsRequest>(context)).Succeeded(out var write, out problem)
            ? new WriteRequest<SentReadings>(
                SentReadings.Of(write.Body.Readings), write.Origin, write.Revision, write.Key)
            : problem;
    }

    private static async Task<Outcome<WriteRequest<SentReadings>>> CsvAsync(HttpContext context)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem)
            || !(await FileBody.ReadAsync(context.Request, isJson: false, RequestLimits.SingleBytes)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        using var held = file;
        var errors = new FieldErrors();
        using var text = file.TextFromStart();
        var sent = SheetCsv.Read(text, errors);
        return errors.ToProblem() is { } wrong
            ? wrong
            : await IdempotencyHeader.ReadAsync(
                context.Request, new WriteRequest<SentReadings>(sent, write.Origin, write.Revision, null), file.FromStart());
    }

    // What the readings are held against: what the draft starts from, else the current version.
    private static async Task<Outcome<Start>> BaseAsync(
        string sourceKey, string? draft, TableSnapshots tables, Proposals proposals, ProposedTables proposed, HttpContext context)
    {
        if (draft is not { } id)
        {
            return (await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out var missing)
                ? StartOf(served.Table, served.Table, sourceKey)
                : missing;
        }

        if (await proposals.FindAsync(id, context.RequestAborted) is not { } proposal)
        {
            return ProposalReply.Missing(id);
        }

        if (Proposals.FaultOfChange(proposal, proposal.Revision) is not ProposalFault.None and var fault)
        {
            return ProposalReply.Refused(id, new ProposalWrite(fault, proposal));
        }

        return (await proposed.OfAsync(proposal, context.RequestAborted)).Succeeded(out var table, out var problem)
            ? StartOf(table.Before, table.After, sourceKey)
            : problem;
    }

    private static Outcome<Start> StartOf(ReferenceTable before, ReferenceTable after, string sourceKey) =>
        SourceOf(after, sourceKey).Succeeded(out var source, out var problem) ? new Start(before, source) : problem;

    private static Outcome<Source> SourceOf(ReferenceTable table, string key)
    {
        var source = table.Sources.FirstOrDefault(source => source.Key == key);
        return source is null
                ? FieldErrors.One("?sourceKey", $"{Text.Quoted(key)} is no source of the table; propose it first, and type its values into that draft, or once it is released.")
            : source.HowRead is SourceReading.Memory or SourceReading.None
                ? FieldErrors.One("?sourceKey", $"{Text.Quoted(key)} is nothing to read in; a source that somebody has before them is allowed.")
            : source;
    }

    private static Outcome<string[]> KindsOf(string? asked, ReferenceTable table)
    {
        var errors = new FieldErrors();
        var keys = asked?.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries) ?? [];
        foreach (var key in keys.Where(key => table.Kinds.All(kind => kind.Key != key)))
        {
            errors.Add("?kinds", $"{Text.Quoted(key)} is no kind of derivative; allowed, parted by commas: {string.Join(", ", table.Kinds.Select(kind => kind.Key))}.");
        }

        return errors.ToProblem() is { } problem ? problem : keys;
    }

    // All that is wrong, line by line, in one round.
    private static Outcome<List<(Derivative Line, PrintedValue Value)>> Typed(SentReadings sent, Start start)
    {
        var errors = new FieldErrors();
        var records = start.Before.Derivatives.ToDictionary(record => record.Key, StringComparer.Ordinal);
        var typed = new List<(Derivative, PrintedValue)>();
        var firstOf = new Dictionary<SheetPlace, string>();
        foreach (var reading in sent.Items)
        {
            var (value, wrong) = PrintedValue.Read(reading.Text, start.Before.Colours);
            if (!records.TryGetValue(reading.Key, out var line))
            {
                errors.Add(reading.KeyPlace, $"{Text.Quoted(reading.Key)} is no line of a sheet of version {start.Before.Version}; the keys of the sheet are allowed.");
            }
            else if (!firstOf.TryAdd(SheetPlace.Of(line), reading.Key))
            {
                errors.Add(reading.KeyPlace, $"{Text.Quoted(reading.Key)} is the same line as {Text.Quoted(firstOf[SheetPlace.Of(line)])}; one of them is allowed.");
            }
            else if (value is null)
            {
                errors.Add(reading.TextPlace, $"{Text.Quoted(reading.Text)}: {wrong}");
            }
            else
            {
                typed.Add((line, value));
            }
        }

        return errors.ToProblem() is { } problem ? problem : typed;
    }

    private static string TitleOf(Source source, string? locator)
    {
        var read = $"Read in {Text.Shortened(source.Citation, LongestCitation)}{(locator is null ? "" : ", " + locator)}";
        return Text.Shortened(read, ProposalRequest.LongestTitle - 1);
    }

    private static async Task<IResult> AnswerAsync(HttpContext context, TableSnapshots tables, List<PrintedReading> sheet, bool? isNew)
    {
        if (!(await tables.FindAsync(sheet[0].TableVersion, context.RequestAborted)).Succeeded(out var served, out var problem))
        {
            return problem;
        }

        context.Response.Headers.CacheControl = "no-store";
        if (isNew is { } made)
        {
            WriteRequest.Made(context, "/api/v1/verification/readings/" + sheet[0].SheetId, made);
        }

        return Reply.Exactly(ReadSheetItem.Of(sheet, served.Table));
    }

    private sealed record Start(ReferenceTable Before, Source Source);
}

/// <summary>What was sent, each line with where it stands in the body.</summary>
/// <param name="Items">The lines that hold something.</param>
internal sealed record SentReadings(IReadOnlyList<SentReading> Items)
{
    /// <summary>Those of a JSON body.</summary>
    /// <param name="readings">What is printed, by the key of the line.</param>
    public static SentReadings Of(IReadOnlyDictionary<string, string> readings) => new([.. readings.Select(reading =>
    {
        var place = JsonPointer.Property("/readings", reading.Key);
        return new SentReading(reading.Key, reading.Value, place, place);
    })]);
}

/// <summary>One line sent.</summary>
/// <param name="Key">Key of the line.</param>
/// <param name="Text">What is printed.</param>
/// <param name="KeyPlace">Where the key stands.</param>
/// <param name="TextPlace">Where the text stands.</param>
internal sealed record SentReading(string Key, string Text, string KeyPlace, string TextPlace);
