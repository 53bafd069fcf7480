using System.Text;
using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;

namespace Derivid.Hostile.Fuzzing;

/// <summary>What attacks are aimed at: a course with reports and grades, proposals at their steps, an import, a key, an identification.</summary>
/// <remarks>Made anew every few hundred requests, since those that succeed close, withdraw and revoke it.</remarks>
internal sealed class Prey
{
    private readonly Dictionary<string, string> _names = [];

    /// <summary>The names an attack can hold, without what marks them.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        "course", "code", "report", "draft", "grading", "later", "proposal", "reviewed", "import", "key", "identification", "actor", "cursor",
    ];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>A name as it stands in an attack.</summary>
    public static string Mark(string name) => $"@@{name}@@";

    /// <summary>Puts in what the names stand for.</summary>
    public string Named(string text)
    {
        if (text.Contains("@@", StringComparison.Ordinal))
        {
            foreach (var (name, value) in _names)
            {
                text = text.Replace(Mark(name), value, StringComparison.Ordinal);
            }
        }

        return text;
    }

    /// <summary>Makes it.</summary>
    /// <param name="site">Where.</param>
    public static async Task<Prey> MakeAsync(Site site)
    {
        var prey = new Prey();
        await prey.MakeCourseAsync(site);
        await prey.MakeProposalsAsync(site);
        var made = await site.As(Who.Administrator).Keys.CreateAsync(
            new KeyRequest { Name = "to be revoked", Role = Role.Student }, cancellationToken: Patience);
        prey._names["key"] = made.Details.Id;
        var observation = new IdentificationRequest { MeltingPoint = "48-49" };
        prey._names["identification"] = (await site.As(Who.Stranger).Identifications.IdentifyAsync(observation, cancellationToken: Patience)).Id;
        prey._names["actor"] = site.ActorOf(Who.Ann);
        var page = JsonElement.Parse(await site.Service.Client.GetStringAsync("/api/v1/parents?limit=1", Patience));
        prey._names["cursor"] = page.GetProperty("next").GetString()!.Split("cursor=")[1];
        Assert.Equal(Names.Order(), prey._names.Keys.Order());
        return prey;
    }

    private async Task MakeCourseAsync(Site site)
    {
        var instructor = site.As(Who.Instructor);
        var course = await Class.MakeAsync(site, [Who.Ann, Who.Ben, "s3", "s4"]);
        var ann = await course.HandInAsync(site, Who.Ann, isDraft: false);
        var ben = await course.HandInAsync(site, Who.Ben, isDraft: true);
        for (var round = 0; round < 2; round++)
        {
            var grading = await instructor.Grades.StartAsync(course.Id, cancellationToken: Patience);
            await instructor.Grades.FollowAsync(course.Id, grading.Id, Patience).LastAsync(Patience);
            _names[round == 0 ? "grading" : "later"] = grading.Id;
        }

        (_names["course"], _names["code"]) = (course.Id, course.Codes[Who.Ann]);
        (_names["report"], _names["draft"]) = (ann.Id, ben.Id);
    }

    private async Task MakeProposalsAsync(Site site)
    {
        var (instructor, reviewer) = (site.As(Who.Instructor), site.As(Who.Reviewer));
        var proposal = await ProposedNoteAsync(instructor, "A draft to be attacked");
        var reviewed = await instructor.Proposals.SubmitAsync(await ProposedNoteAsync(instructor, "Reviewed, to be attacked"), cancellationToken: Patience);
        reviewed = await reviewer.Proposals.ApproveAsync(reviewed, "seen", Patience);
        using var file = new MemoryStream(Encoding.UTF8.GetBytes("key,name\nzz,zz\n"));
        var import = await instructor.Imports.StartAsync(proposal, new ImportFile("colours", file, ExportFormat.Csv), cancellationToken: Patience);
        await instructor.Imports.FollowAsync(import.Id, Patience).LastAsync(Patience);
        (_names["proposal"], _names["reviewed"], _names["import"]) = (proposal.Id, reviewed.Id, import.Id);
    }

    /// <summary>A proposal that changes the note of one record of the current table.</summary>
    /// <param name="client">Its author.</param>
    /// <param name="note">The note.</param>
    public static async Task<ProposalItem> ProposedNoteAsync(DerividClient client, string note)
    {
        var current = await client.Table.GetCurrentVersionAsync(Patience);
        await using var rows = await client.Table.ExportAsync(current.Number, RecordKinds.Colours.TableName, ExportFormat.Json, Patience);
        var row = (await JsonSerializer.DeserializeAsync<JsonElement[]>(rows, cancellationToken: Patience))![0];
        var changed = row.EnumerateObject().ToDictionary(member => member.Name, member => (object)member.Value);
        changed["name"] = $"{row.GetProperty("name").GetString()!.Split(" (")[0]} ({note} {Guid.NewGuid():N})";
        var proposal = await client.Proposals.CreateAsync(new ProposalRequest { Title = note }, cancellationToken: Patience);
        return await client.Proposals.PutRecordAsync(
            proposal, RecordKinds.Colours.TableName, row.GetProperty("key").GetString()!, JsonSerializer.SerializeToElement(changed), cancellationToken: Patience);
    }
}
