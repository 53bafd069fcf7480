using System.IO.Compression;
using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;

namespace Derivid.Cli.Tests;

/// <summary>derivid import, proposals, release, diff and export, on a service of their own: they change the table.</summary>
public sealed class CurationTests : IAsyncLifetime
{
    private const string Key = "1-2-diphenylethan-1-one-oxime-1";

    private readonly ServiceUnderTest _service = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-cli-").FullName;
    private Shell _author = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string File => Path.Combine(_folder, "derivatives.csv");

    public async ValueTask InitializeAsync()
    {
        await _service.InitializeAsync();
        _author = Shell.OfAdministrator(_service);
    }

    public async ValueTask DisposeAsync()
    {
        await _service.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task FileBecomesAVersionAndIsRolledBack()
    {
        await WriteRowsAsync(("204,204", "204,205"), ("recalled,,204,", "recalled,,204-205,"), (Key + ",", Key + "-b,"));
        (await _author.RunAsync("import", File, "--whole")).Exits(ExitCode.Done);
        var taken = (await _author.RunAsync(
            "import", File, "--whole", "--commit", "--title", "Page 12", "--reason", "gelesen in Köln", "--json")).Exits(ExitCode.Done);
        var id = taken.Json.GetProperty("import").GetProperty("proposal").GetString()!;
        var shown = (await _author.RunAsync("proposals", "show", id)).Exits(ExitCode.Done);

        (await _author.RunAsync("release", id)).Exits(ExitCode.Refused);
        (await _author.RunAsync("proposals", "submit", id)).Exits(ExitCode.Done);
        var own = (await _author.RunAsync("proposals", "approve", id)).Exits(ExitCode.Refused);
        var reviewer = await ReviewerAsync();
        (await reviewer.RunAsync("proposals", "approve", id, "--note", "agrees with the page")).Exits(ExitCode.Done);
        var released = (await reviewer.RunAsync("release", id, "--note", "Page 12")).Exits(ExitCode.Done);
        var diff = (await _author.RunAsync("diff", "1", "2")).Exits(ExitCode.AnswerIsNo);
        var json = (await _author.RunAsync("diff", "1", "2", "--list", "derivatives", "--json")).Exits(ExitCode.AnswerIsNo);
        var same = (await _author.RunAsync("diff", "2", "2")).Exits(ExitCode.Done);

        Assert.Contains("+ derivatives " + Key + "-b", shown.Output, StringComparison.Ordinal);
        Assert.Contains("hand in this proposal", own.Error, StringComparison.Ordinal);
        Assert.Contains("released as version 2", released.Output, StringComparison.Ordinal);
        Assert.Contains("melts to, °C: 204 → 205", diff.Output, StringComparison.Ordinal);
        Assert.Equal(3, json.Json.GetArrayLength());
        Assert.Contains("0 added, 0 changed, 0 removed", same.Output, StringComparison.Ordinal);

        var back = (await _author.RunAsync("proposals", "create", "--title", "Back", "--restores", "1", "--json")).Exits(ExitCode.Done);
        var backId = back.Json.GetProperty("id").GetString()!;
        (await _author.RunAsync("proposals", "submit", backId)).Exits(ExitCode.Done);
        (await reviewer.RunAsync("proposals", "hand-back", backId)).Exits(ExitCode.Done);
        (await _author.RunAsync("proposals", "rebase", backId)).Exits(ExitCode.Done);
        (await _author.RunAsync("proposals", "submit", backId)).Exits(ExitCode.Done);
        (await reviewer.RunAsync("proposals", "approve", backId)).Exits(ExitCode.Done);
        (await reviewer.RunAsync("release", backId)).Exits(ExitCode.Done);
        var first = (await _author.RunAsync("export", "1", "--list", "derivatives")).Exits(ExitCode.Done);
        var third = (await _author.RunAsync("export", "--list", "derivatives")).Exits(ExitCode.Done);

        Assert.Equal(first.Output, third.Output);
    }

    [Fact]
    public async Task EveryFaultIsToldByLineColumnAndValue()
    {
        await WriteRowsAsync(("163,163", "hot,163"), (",98,98,no,no", ",98,98,no,perhaps"));
        var told = (await _author.RunAsync("import", File)).Exits(ExitCode.AnswerIsNo);
        var json = (await _author.RunAsync("import", File, "--commit", "--json")).Exits(ExitCode.AnswerIsNo).Json;
        var drafts = (await _author.RunAsync("proposals", "list", "--state", "draft", "--json")).Exits(ExitCode.Done);

        var lines = await System.IO.File.ReadAllLinesAsync(File, Token);
        int[] wrong = [1 + Array.FindIndex(lines, line => line.Contains("hot,163", StringComparison.Ordinal)), 1 + Array.FindIndex(lines, line => line.Contains("no,perhaps", StringComparison.Ordinal))];
        Assert.Contains($"{File}:{wrong[0]}: low_celsius: \"hot\"", told.Output, StringComparison.Ordinal);
        Assert.Contains($"{File}:{wrong[1]}: decomposes: \"perhaps\"", told.Output, StringComparison.Ordinal);
        Assert.Contains("nothing was taken", told.Output, StringComparison.Ordinal);
        Assert.Equal(wrong.Order(), json.GetProperty("faults").EnumerateArray().Select(f => f.GetProperty("line").GetInt32()));
        Assert.Equal("failed", json.GetProperty("import").GetProperty("state").GetString());
        Assert.Empty(drafts.Json.EnumerateArray());
    }

    [Fact]
    public async Task RowsFromStandardInputGoIntoADraftThereIs()
    {
        var draft = (await _author.RunAsync("proposals", "create", "--title", "Colours", "--json")).Exits(ExitCode.Done)
            .Json.GetProperty("id").GetString()!;
        var colours = (await _author.RunAsync("export", "--list", "colours", "--json")).Exits(ExitCode.Done);
        var piped = _author with { Input = colours.Output };
        var ran = (await piped.RunAsync(
            "import", "-", "--list", "colours", "--format", "json", "--proposal", draft, "--commit", "--json")).Exits(ExitCode.Done);
        (await _author.RunAsync("import", "-", "--commit")).Exits(ExitCode.Usage);
        (await _author.RunAsync("proposals", "withdraw", draft, "--note", "nothing new")).Exits(ExitCode.Done);
        var listed = (await _author.RunAsync("proposals", "list", "--state", "withdrawn")).Exits(ExitCode.Done);
        var inSight = (await _author.RunAsync("proposals", "list")).Exits(ExitCode.Done);
        var shown = (await _author.RunAsync("proposals", "show", draft)).Exits(ExitCode.Done);

        Assert.DoesNotContain(draft, inSight.Output, StringComparison.Ordinal);
        Assert.Contains("withdrawal: nothing new", shown.Output, StringComparison.Ordinal);
        Assert.Equal(colours.Json.GetArrayLength(), ran.Json.GetProperty("import").GetProperty("unchanged").GetInt32());
        Assert.Equal(draft, ran.Json.GetProperty("import").GetProperty("proposal").GetString());
        Assert.Contains("withdrawn", listed.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ProgressIsShownToWhoeverLooks()
    {
        await WriteRowsAsync();
        var ran = (await (_author with { IsTerminal = true }).RunAsync("import", File)).Exits(ExitCode.Done);

        Assert.Contains("succeeded", ran.Error, StringComparison.Ordinal);
        Assert.Contains("100%", ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task RefusalLeavesNoDraftBehind()
    {
        await WriteRowsAsync();
        var unknown = (await _author.RunAsync("import", File, "--list", "compounds", "--commit")).Exits(ExitCode.Refused);
        (await _author.RunAsync("import", Path.Combine(_folder, "no-such-file"))).Exits(ExitCode.Usage);
        (await new Shell(_service).RunAsync("import", File)).Exits(ExitCode.Refused);
        var drafts = (await _author.RunAsync("proposals", "list", "--state", "draft", "--json")).Exits(ExitCode.Done);

        Assert.Contains("derivatives", unknown.Error, StringComparison.Ordinal);
        Assert.Empty(drafts.Json.EnumerateArray());
    }

    [Fact]
    public async Task ExportIsWrittenToAFileOrNotAtAll()
    {
        var archive = Path.Combine(_folder, "table.zip");
        var none = Path.Combine(_folder, "none.csv");
        (await _author.RunAsync("export", "--output", archive)).Exits(ExitCode.Done);
        (await _author.RunAsync("export", "99", "--output", none)).Exits(ExitCode.Refused);
        (await (_author with { IsTerminal = true }).RunAsync("export")).Exits(ExitCode.Usage);
        var whole = (await _author.RunAsync("export", "--json")).Exits(ExitCode.Done).Json;
        await using var zip = await ZipFile.OpenReadAsync(archive, Token);

        Assert.Contains(zip.Entries, entry => entry.Name == "derivatives.csv");
        var package = Path.Combine(_folder, "package.zip");
        (await _author.RunAsync("export", "1", "--data-package", "--output", package)).Exits(ExitCode.Done);
        (await _author.RunAsync("export", "1", "--data-package", "--list", "colours", "--output", none)).Exits(ExitCode.Usage);
        (await (_author with { IsTerminal = true }).RunAsync("export", "--data-package")).Exits(ExitCode.Usage);
        await using var described = await ZipFile.OpenReadAsync(package, Token);
        Assert.Equal(["datapackage.json", .. zip.Entries.Select(entry => entry.Name)], described.Entries.Select(entry => entry.Name));
        Assert.True(whole.GetProperty("derivatives").GetArrayLength() > 200);
        Assert.False(System.IO.File.Exists(none));
    }

    [Fact]
    public async Task ClientWritesRecordsByRevision()
    {
        using var client = DerividClient.Connect(_service.Address, ServiceUnderTest.AdministratorKey);
        var draft = await client.Proposals.CreateAsync(new ProposalRequest { Title = "One record" }, "because", null, Token);
        var described = await client.Proposals.DescribeAsync(draft, "One colour", "to see", Token);
        await using var export = await client.Table.ExportAsync(1, "colours", ExportFormat.Json, Token);
        using var colours = await JsonDocument.ParseAsync(export, default, Token);
        // One that has a place in the order, which breaks without it.
        var record = colours.RootElement.EnumerateArray().Last(colour => colour.TryGetProperty("rank", out _));
        var key = record.GetProperty("key").GetString()!;
        var removed = await client.Proposals.RemoveRecordAsync(described, "colours", key, cancellationToken: Token);
        var changes = await client.Proposals.ListChangesAsync(draft.Id, cancellationToken: Token).ToListAsync(Token);
        var broken = await client.Proposals.ValidateAsync(draft.Id, Token);
        var put = await client.Proposals.PutRecordAsync(removed, "colours", key, record, cancellationToken: Token);
        var takenBack = await client.Proposals.TakeBackRecordAsync(put, "colours", key, cancellationToken: Token);
        var comment = await client.Proposals.CommentAsync(draft.Id, "Done.", null, Token);
        var stale = await Assert.ThrowsAsync<Client.DerividException>(
            () => client.Proposals.WithdrawAsync(draft, cancellationToken: Token));

        Assert.Equal(ChangeType.Removed, Assert.Single(changes).Type);
        Assert.True(broken.Errors > 0);
        Assert.Equal("One colour", takenBack.Title);
        Assert.Empty(await client.Proposals.ListChangesAsync(draft.Id, cancellationToken: Token).ToListAsync(Token));
        Assert.Equal(comment, Assert.Single(await client.Proposals.ListCommentsAsync(draft.Id, Token).ToListAsync(Token)));
        Assert.Equal("urn:derivid:problem:stale-revision", stale.Type);
    }

    [Fact]
    public async Task ProposalMadeTwiceUnderOneWordIsOne()
    {
        string[] command = ["proposals", "create", "--title", "Page 13", "--idempotency-key", "page-13", "--json"];
        var first = (await _author.RunAsync(command)).Exits(ExitCode.Done).Json;
        var second = (await _author.RunAsync(command)).Exits(ExitCode.Done).Json;
        (await _author.RunAsync("proposals", "create", "--title", "Page 14", "--idempotency-key", "page-13")).Exits(ExitCode.Refused);
        Assert.Equal(first.GetRawText(), second.GetRawText());
    }

    [Fact]
    public async Task ClientCallsAnImportOff()
    {
        using var client = DerividClient.Connect(_service.Address, ServiceUnderTest.AdministratorKey);
        var draft = await client.Proposals.CreateAsync(new ProposalRequest { Title = "Called off" }, cancellationToken: Token);
        await WriteRowsAsync();
        var import = await client.Imports.StartAsync(
            draft, new ImportFile("derivatives", System.IO.File.OpenRead(File), ExportFormat.Csv), cancellationToken: Token);
        await client.Imports.CancelAsync(import.Id, "wrong file", Token);
        var ended = await client.Imports.FollowAsync(import.Id, Token).LastAsync(Token);

        // It may have come to its end before it heard of it.
        Assert.Contains(ended.State, (ImportState[])[ImportState.Cancelled, ImportState.Succeeded]);
        Assert.True(ended.HasEnded);
    }

    [Fact]
    public async Task ClientAsksForCuratorsHelp()
    {
        using var client = DerividClient.Connect(_service.Address, ServiceUnderTest.AdministratorKey);
        var structure = await client.Table.DescribeStructureAsync("CC(=O)C", "acetone", Token);
        var drawing = await client.Table.DrawStructureAsync("CC(=O)C", "acetone & co", Token);
        var coverage = await client.Table.GetCoverageAsync(cancellationToken: Token);

        Assert.Contains("<title>acetone &amp; co</title>", drawing, StringComparison.Ordinal);
        Assert.Equal("C3H6O", structure.Formula);
        Assert.Contains(structure.Duplicates, d => d.Parent == "propanone");
        Assert.NotEmpty(coverage.NeverCrossChecked);
    }

    // The released list, with changes.
    private async Task WriteRowsAsync(params IEnumerable<(string Old, string New)> changes)
    {
        var export = (await _author.RunAsync("export", "1", "--list", "derivatives")).Exits(ExitCode.Done).Output;
        var text = changes.Aggregate(export, (rows, change) =>
        {
            var at = rows.IndexOf(change.Old, StringComparison.Ordinal);
            return string.Concat(rows.AsSpan(0, at), change.New, rows.AsSpan(at + change.Old.Length));
        });
        await System.IO.File.WriteAllTextAsync(File, text, Token);
    }

    private async Task<Shell> ReviewerAsync()
    {
        var made = (await _author.RunAsync("keys", "create", "--name", "reviewer", "--role", "instructor")).Exits(ExitCode.Done);
        return Shell.With(_service, made.Output.Trim());
    }
}
