using System.Net;
using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Store.Seeding;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Derivid.Api.Tests.Teaching;

/// <summary>What to fill into which vials, and what the labels on them warn of.</summary>
public sealed partial class FillingTests(SqliteService service)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EveryVialStandsOnceWithItsCompoundAndBench()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, others: 10);
        var list = await room.Grader.JsonAtAsync($"{room.Address}/filling-list?vialMillilitres=2.5&vialMilligrams=400");
        var rows = (await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/filling-list?vialMillilitres=2.5&vialMilligrams=400"))
            .TrimEnd().Split('\n').Select(row => row.TrimEnd('\r').Split(',')).ToList();

        var filled = list.GetProperty("items").EnumerateArray().SelectMany(item => item.GetProperty("benches").EnumerateArray()
            .SelectMany(bench => bench.GetProperty("codes").EnumerateArray().Select(code => (code.GetString()!, item.GetProperty("parent").GetString()!)))).ToList();
        Assert.Equal(
            room.Codes.Keys.Select(student => (room.Codes[student], room.Answers[student])).Order(), filled.Order());
        Assert.Equal(filled.Order(), rows.Skip(1).Select(row => (row[4], row[0])).Order());
        Assert.Equal(["parent", "name", "state", "bench", "code", "millilitres", "milligrams", "hazards"], rows[0]);
        Assert.All(rows.Skip(1), row => Assert.Equal("1", row[3]));

        // Benzaldehyde melts at −26 °C and acetophenone at 20 °C: liquids by volume, n vials of 2.5 mL each.
        foreach (var item in list.GetProperty("items").EnumerateArray())
        {
            var vials = item.GetProperty("vials").GetInt32();
            var isSolid = item.TryGetProperty("state", out var state) && state.GetString() == "solid";
            Assert.Equal(room.Answers.Values.Count(parent => parent == item.GetProperty("parent").GetString()), vials);
            Assert.Equal(!isSolid, item.TryGetProperty("millilitres", out var volume) && volume.GetDouble() == 2.5 * vials);
        }
    }

    [Fact]
    public async Task ListIsForTheStaffAndThereOnceUnknownsAre()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        await room.PutRosterAsync(2);
        using var early = await room.Grader.GetAsync($"{room.Address}/filling-list", Patience);
        await room.HandOutAsync();
        using var student = await room.Ann.GetAsync($"{room.Address}/filling-list", Patience);
        using var wrong = await room.Grader.GetAsync($"{room.Address}/filling-list?vialMillilitres=0", Patience);

        await early.ProblemAsync(ProblemTypes.CourseStateForbids);
        Assert.Equal(HttpStatusCode.Forbidden, student.StatusCode);
        await wrong.ProblemAsync(ProblemTypes.InvalidRequest);
    }

    [Fact]
    public async Task EveryLabelWarnsAlikeWhateverIsInside()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, others: 10);
        using var response = await room.Grader.GetAsync($"{room.Address}/labels", Patience);
        var cautions = Caution().Matches(await response.Content.ReadAsStringAsync(Patience)).Select(match => match.Groups[1].Value).ToList();

        Assert.Equal(room.Codes.Count, cautions.Count);
        Assert.StartsWith("Take as flammable and harmful.", Assert.Single(cautions.Distinct()), StringComparison.Ordinal);
    }

    // Butanone is highly flammable, and in vials although the course has taken it off its shelf since.
    [Fact]
    public async Task LabelsWarnOfWhatWasHandedOut()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, others: 10);
        using (var put = await room.PutAsync(
            room.Instructor, room.Address, Classroom.Course.Replace("\"2-butanone\", ", "", StringComparison.Ordinal).Replace("\"acetone\", ", "", StringComparison.Ordinal)))
        {
            await put.JsonAsync(HttpStatusCode.OK);
        }

        using var response = await room.Grader.GetAsync($"{room.Address}/labels", Patience);

        Assert.Contains("Highly flammable", await response.Content.ReadAsStringAsync(Patience), StringComparison.Ordinal);
    }

    // A curator may write anything into the cell; the labels are printed all the same, with all of it.
    [Fact]
    public async Task LabelsArePrintedWhateverTheTableSays()
    {
        var odd = new[] { "Highly flammable, , forms peroxides slowly", ", ;", " ", "<b>Toxic</b>", new string('x', 200) };
        var seed = SeedTable.BuiltIn();
        var table = seed.Load();
        var shelf = new[] { "propanone", "butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde" };
        var parents = table.Parents.Select(parent => Array.IndexOf(shelf, parent.Key) is var i and >= 0 ? parent with { Hazards = odd[i] } : parent).ToList();
        await using var database = new SqliteDatabase();
        await using var other = new ServiceUnderTest(database.ConnectionString, services => services.Replace(ServiceDescriptor.Singleton(
            new SeedTable(new string('0', 64), () => table with { Parents = parents }))));
        using var client = await other.StartAsync();
        await using var room = await Classroom.HandedOutAsync(other, others: 10);
        using var response = await room.Grader.GetAsync($"{room.Address}/labels", Patience);
        var cautions = Caution().Matches(await response.Content.ReadAsStringAsync(Patience)).Select(match => match.Groups[1].Value).ToList();

        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.Equal(room.Codes.Count, cautions.Count);
        Assert.Equal(
            $"Take as flammable and harmful. Some of this shelf: &lt;b&gt;Toxic&lt;/b&gt;. Highly flammable, , forms peroxides slowly. X{new string('x', 199)}.",
            Assert.Single(cautions.Distinct()));
    }

    [GeneratedRegex("<small>(.*?)</small>")]
    private static partial Regex Caution();
}
