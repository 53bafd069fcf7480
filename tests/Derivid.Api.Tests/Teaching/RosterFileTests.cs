using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Rosters as learning systems write them; the same on both engines. People and ids are made up.</summary>
public abstract class RosterFileTests(RunningService service)
{
    private const string Manifest = "propertyName,value\r\nmanifest.version,1.0\r\noneroster.version,1.2\r\nfile.users,bulk\r\nfile.enrollments,bulk\r\n";

    private const string Users =
        "\uFEFFsourcedId,status,dateLastModified,enabledUser,username,userIds,givenName,familyName,middleName,identifier,email\r\n"
        + "u-3,,,true,grace,,Grace,Hopperova,,200003,grace@example.org\r\n"
        + "u-1,,,true,ada,\"{LDAP:1},{LTI:1}\",Ada,\"Lovelace, Countess\",,200001,ada@example.org\r\n"
        + "u-2,,,true,emmy,,Emmy,Noetherova,,200002,emmy@example.org\r\n"
        + "t-1,,,true,marie,,Marie,Curieova,,900001,marie@example.org\r\n";

    private const string Enrollments =
        "sourcedId,status,dateLastModified,classSourcedId,schoolSourcedId,userSourcedId,role,primary,beginDate,endDate\r\n"
        + "e-1,,,chem-a,school,u-1,student,,,\r\n"
        + "e-2,,,chem-a,school,u-2,student,,,\r\n"
        + "e-3,,,chem-a,school,t-1,teacher,true,,\r\n";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StudentsOfTheClassAreTakenBySourcedIdAndNamesAndAddressesAreNowhereKept()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        using var put = await PutAsync(room, ("manifest.csv", Manifest), ("orgs.csv", "sourcedId\r\nschool\r\n"), ("users.csv", Users), ("enrollments.csv", Enrollments));
        var taken = await put.JsonAsync(HttpStatusCode.OK);

        Assert.Equal(["u-1", "u-2"], Students(taken));
        Assert.Equal(
            [
                "Of enrollments.csv not read and not kept: the columns \"sourcedid\", \"datelastmodified\", \"schoolsourcedid\", \"primary\", \"begindate\", \"enddate\".",
                "Of users.csv not read and not kept: the columns \"datelastmodified\", \"enableduser\", \"username\", \"userids\", \"givenname\", \"familyname\", \"middlename\", \"identifier\", \"email\".",
                "Not read: orgs.csv.",
                "Benches, places, neighbours and who students sign in as are not in OneRoster; students who stay keep theirs.",
            ],
            taken.GetProperty("remarks").EnumerateArray().Select(remark => remark.GetString()));
        var kept = await EverythingAsync();
        Assert.Contains("u-1", kept, StringComparison.Ordinal);
        foreach (var personal in new[] { "Lovelace", "Noetherova", "ada@", "example.org", "{LDAP:1}", "200001" })
        {
            Assert.DoesNotContain(personal, kept, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public async Task RosterTakenOutOfAnArchiveReadsBackTheSameAndWhoStaysKeepsTheirBench()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        using var first = await room.PutAsync(
            room.Instructor, $"{room.Address}/roster", $"student,bench,place,neighbours,actor,group\r\nu-1,A,1,u-9,{room.AnnActor},X\r\nu-9,A,3,,,X\r\n", "text/csv");
        Assert.StartsWith("1 group of 2 students", Assert.Single((await first.JsonAsync(HttpStatusCode.OK)).GetProperty("remarks").EnumerateArray()).GetString(), StringComparison.Ordinal);

        using var put = await PutAsync(room, ("users.csv", Users), ("enrollments.csv", Enrollments));
        var taken = await put.JsonAsync(HttpStatusCode.OK);
        var csv = await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/roster");
        using var again = await room.PutAsync(room.Instructor, $"{room.Address}/roster", csv, "text/csv");
        await again.JsonAsync(HttpStatusCode.OK);

        Assert.Equal($"student,bench,place,neighbours,actor,group\r\nu-1,A,1,,{room.AnnActor},X\r\nu-2,,,,,\r\n", csv);
        Assert.Equal(csv, await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/roster"));
        Assert.StartsWith("There is no manifest.csv", taken.GetProperty("remarks")[0].GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SmallArchiveThatUnpacksToARowOfMillionsOfCellsIsRefused()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        using var put = await PutAsync(room, ("users.csv", Users), ("enrollments.csv", Enrollments + new string(',', 3_000_000)));
        using var many = await PutAsync(room, [.. Enumerable.Range(0, 1001).Select(file => ($"{file}.csv", ""))]);

        Assert.Equal(
            "Allowed: a row of at most 4,096 cells and 1,048,576 characters.",
            (await put.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("enrollments.csv, line 5"));
        await many.ProblemAsync(ProblemTypes.TooLarge);
    }

    [Fact]
    public async Task OfSeveralClassesOneIsNamedAndIdentifiersCanStandForSourcedIds()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        var files = new[]
        {
            ("users.csv", Users),
            ("enrollments.csv", Enrollments + "e-4,,,chem-b,school,u-3,student,,,\r\ne-5,tobedeleted,,chem-b,school,u-1,student,,,\r\n"),
            ("classes.csv", "sourcedId,title\r\nchem-a,\"Chemistry, Monday\"\r\nchem-b,Chemistry Friday\r\n"),
        };

        using var unclear = await PutAsync(room, files);
        using var wrong = await PutAsync(room, "?class=chem-c", files);
        using var named = await PutAsync(room, "?class=chem-b&studentColumn=identifier", files);

        Assert.Equal(
            "The archive tells of 2 classes; say which one with ?class=: \"chem-a\" (Chemistry, Monday) with 2, \"chem-b\" (Chemistry Friday) with 1.",
            (await unclear.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?class"));
        Assert.StartsWith("No student is enrolled in \"chem-c\"; ", (await wrong.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?class"), StringComparison.Ordinal);
        Assert.Equal(["200003"], Students(await named.JsonAsync(HttpStatusCode.OK)));
    }

    [Fact]
    public async Task ExportOfALearningSystemIsTakenByTheColumnOfIdentifiersAndSaysWhatItPassedOver()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        const string Export =
            "Student,ID,SIS User ID,\"Report 1, draft (77)\",Section\r\n"
            + "    Points Possible,,,10,\r\n"
            + "\"Lovelace, Ada\",31,u-1,8,A\r\n"
            + "\"Noetherova, Emmy\",32,u-2,,A\r\n";

        using var names = await room.PutAsync(room.Instructor, $"{room.Address}/roster", Export, "text/csv");
        using var addresses = await room.PutAsync(room.Instructor, $"{room.Address}/roster?studentColumn=mail", "mail\r\nada@example.org\r\n", "text/csv");
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/roster?studentColumn=SIS%20User%20ID", Export, "text/csv");
        using var none = await room.PutAsync(room.Instructor, $"{room.Address}/roster?studentColumn=login", Export, "text/csv");

        var refused = await names.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(["line 2, student", "line 3, student", "line 4, student"], refused["errors"]!.AsObject().Select(error => error.Key));
        Assert.DoesNotContain("Lovelace", refused.ToJsonString(), StringComparison.Ordinal);
        Assert.Contains("neither is ever kept", (await addresses.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("line 2, mail"), StringComparison.Ordinal);
        var taken = await put.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(["u-1", "u-2"], Students(taken));
        Assert.Equal(
            [
                "Not read and not kept: the columns \"student\", \"id\", \"report 1, draft (77)\", \"section\".",
                "Left out, having no identifier: line 2.",
            ],
            taken.GetProperty("remarks").EnumerateArray().Select(remark => remark.GetString()));
        Assert.Contains(
            "one of them must be login. It has \"student\", \"id\", \"sis user id\"",
            (await none.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("line 1"),
            StringComparison.Ordinal);
    }

    public static TheoryData<string, string, string> BadArchives => new()
    {
        { "folder", "", "\"export/users.csv\" stands in a folder" },
        { "climbing", "", "\"../users.csv\" stands in a folder" },
        { "many", "", "The archive holds 70 files; 64 are allowed" },
        { "twice", "", "\"users.csv\" is in the archive twice" },
        { "none", "", "There is no enrollments.csv" },
        { "cut", "", "no ZIP archive that can be read" },
        { "text", "", "This is no ZIP archive." },
        { "damaged", "users.csv", "can't be unpacked" },
        { "latin", "users.csv", "are bytes that are not UTF-8 text" },
        { "wide", "users.csv", "This text is in UTF-16" },
        { "delta", "manifest.csv", "users.csv tells only what changed (delta)" },
        { "older", "manifest.csv", "It tells of OneRoster \"1.1\"" },
        { "unnamed", "users.csv, line 1", "sourcedid is not among them" },
        { "ragged", "enrollments.csv, line 2", "Holds 2 cells; the first line has 3" },
        { "missing", "users.csv", "Has no row for 1 whom enrollments.csv has for students of the class: \"u-1\"" },
        { "classes", "enrollments.csv", "Tells of more than 5000 classes" },
        { "teachers", "enrollments.csv", "no row has the role student" },
        { "mail", "users.csv, sourcedid", "neither is ever kept here" },
    };

    [Theory]
    [MemberData(nameof(BadArchives))]
    public async Task ArchiveThatCannotBeReadIsRefusedWithTheFile(string kind, string place, string reason)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        using var put = await PutAsync(room, "", Bad(kind));

        var problem = await put.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Contains(
            problem["errors"]!.AsObject(),
            error => error.Key == place && error.Value!.AsArray().Any(message => ((string)message!).Contains(reason, StringComparison.Ordinal)));
        Assert.Empty((await room.Grader.JsonAtAsync($"{room.Address}/roster")).GetProperty("students").EnumerateArray());
    }

    [Fact]
    public async Task ArchiveThatUnpacksToFarMoreIsUnpackedNoFartherThanIsAllowed()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();
        var row = Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat("u-1,x\n", 10_000)));
        var bomb = Zip(("users.csv", [.. "sourcedId,name\n"u8, .. Enumerable.Repeat(row, 1500).SelectMany(part => part)]), ("enrollments.csv", Encoding.UTF8.GetBytes(Enrollments)));
        Assert.InRange(bomb.Length, 1, RequestLimits.BatchBytes);

        using var unpacked = await PutAsync(room, "", bomb);
        using var packed = await PutAsync(room, "", [.. "PK"u8, .. new byte[RequestLimits.BatchBytes]]);

        Assert.Contains("users.csv may hold at most 16777216 bytes unpacked", (string)(await unpacked.ProblemAsync(ProblemTypes.TooLarge))["detail"]!, StringComparison.Ordinal);
        await packed.ProblemAsync(ProblemTypes.TooLarge);
    }

    // Every byte in turn made something else, and the archive cut off after it.
    [Fact]
    public async Task ArchiveSpoiltAnywhereIsReadOrRefusedAndNothingElse()
    {
        var whole = Zip(("users.csv", Users), ("enrollments.csv", Enrollments));
        var random = new Random(20261130);
        for (var at = 0; at < whole.Length; at++)
        {
            var spoilt = whole.ToArray();
            spoilt[at] ^= (byte)random.Next(1, 256);
            foreach (var bytes in new[] { spoilt, whole[..at] })
            {
                var read = await OneRosterClass.ReadAsync(new MemoryStream(bytes), new RosterQuery(), Patience);
                Assert.True(read.Succeeded(out var taken, out var problem) ? taken.Students.Count > 0 : problem.Detail.Length > 0);
            }
        }
    }

    private static byte[] Bad(string kind) => kind switch
    {
        "folder" => Zip(("export/users.csv", Users), ("export/enrollments.csv", Enrollments)),
        "climbing" => Zip(("../users.csv", Users), ("enrollments.csv", Enrollments)),
        "many" => Zip([.. Enumerable.Range(0, 70).Select(i => ($"f{i}.csv", "a\r\n"))]),
        "twice" => Zip(("users.csv", Users), ("users.csv", Users), ("enrollments.csv", Enrollments)),
        "none" => Zip(("users.csv", Users)),
        "cut" => Zip(("users.csv", Users), ("enrollments.csv", Enrollments))[..200],
        "text" => Encoding.UTF8.GetBytes(Users),
        "damaged" => Damaged(),
        "latin" => Zip(("users.csv", Encoding.Latin1.GetBytes("sourcedId,familyName\r\nu-1,Müller\r\n")), ("enrollments.csv", Encoding.UTF8.GetBytes(Enrollments))),
        "wide" => Zip(("users.csv", [.. Encoding.Unicode.Preamble, .. Encoding.Unicode.GetBytes(Users)]), ("enrollments.csv", Encoding.UTF8.GetBytes(Enrollments))),
        "delta" => Zip(("manifest.csv", Manifest.Replace("file.users,bulk", "file.users,delta", StringComparison.Ordinal)), ("users.csv", Users), ("enrollments.csv", Enrollments)),
        "older" => Zip(("manifest.csv", Manifest.Replace("1.2", "1.1", StringComparison.Ordinal)), ("users.csv", Users), ("enrollments.csv", Enrollments)),
        "unnamed" => Zip(("users.csv", "id\r\nu-1\r\n"), ("enrollments.csv", Enrollments)),
        "ragged" => Zip(("users.csv", Users), ("enrollments.csv", "classSourcedId,userSourcedId,role\r\nchem-a,u-1\r\n")),
        "missing" => Zip(("users.csv", "sourcedId\r\nu-2\r\n"), ("enrollments.csv", Enrollments)),
        "classes" => Zip(("users.csv", Users), ("enrollments.csv", "classSourcedId,userSourcedId,role\r\n" + string.Concat(Enumerable.Range(0, 5001).Select(i => $"c-{i},u-1,student\r\n")))),
        "teachers" => Zip(("users.csv", Users), ("enrollments.csv", Enrollments.Replace("student", "proctor", StringComparison.Ordinal))),
        _ => Zip(("users.csv", "sourcedId\r\nada@example.org\r\n"), ("enrollments.csv", "classSourcedId,userSourcedId,role\r\nchem-a,ada@example.org,student\r\n")),
    };

    // The first file's bytes spoilt, the list of files at the end left whole.
    private static byte[] Damaged()
    {
        var whole = Zip(("users.csv", Users), ("enrollments.csv", Enrollments));
        whole.AsSpan(60, 40).Fill(0xFF);
        return whole;
    }

    private static byte[] Zip(params (string Name, string Text)[] files) => Zip([.. files.Select(file => (file.Name, Encoding.UTF8.GetBytes(file.Text)))]);

    private static byte[] Zip(params (string Name, byte[] Bytes)[] files)
    {
        using var bytes = new MemoryStream();
        using (var archive = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in files)
            {
                using var file = archive.CreateEntry(name).Open();
                file.Write(content);
            }
        }

        return bytes.ToArray();
    }

    private static IEnumerable<string?> Students(JsonElement roster) =>
        roster.GetProperty("students").EnumerateArray().Select(student => student.GetProperty("student").GetString());

    private static Task<HttpResponseMessage> PutAsync(Classroom room, params (string Name, string Text)[] files) => PutAsync(room, "", files);

    private static Task<HttpResponseMessage> PutAsync(Classroom room, string query, params (string Name, string Text)[] files) =>
        PutAsync(room, query, Zip(files));

    private static async Task<HttpResponseMessage> PutAsync(Classroom room, string query, byte[] archive)
    {
        using var current = await room.Instructor.GetAsync(room.Address, Patience);
        var separator = query.Length == 0 ? "?" : "&";
        using var request = new HttpRequestMessage(HttpMethod.Put, $"{room.Address}/roster{query}{separator}dropsStudents=true") { Content = new ByteArrayContent(archive) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/zip");
        request.Headers.IfMatch.Add(current.Headers.ETag!);
        // What is refused for its length isn't read: whoever still sends it then may find the line cut before they read why.
        request.Headers.ExpectContinue = archive.Length > RequestLimits.BatchBytes;
        return await room.Instructor.SendAsync(request, Patience);
    }

    // Every cell of every table.
    private async Task<string> EverythingAsync()
    {
        await using var context = await service.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Patience);
        var all = new StringBuilder();
        var connection = context.Database.GetDbConnection();
        await context.Database.OpenConnectionAsync(Patience);
        foreach (var table in context.Model.GetEntityTypes().Select(type => type.GetTableName()!).Distinct())
        {
            await using var command = connection.CreateCommand();
            command.CommandText = "SELECT * FROM " + table;
            await using var rows = await command.ExecuteReaderAsync(Patience);
            while (await rows.ReadAsync(Patience))
            {
                for (var column = 0; column < rows.FieldCount; column++)
                {
                    all.Append(rows.GetValue(column) is Array parts ? string.Join(' ', parts.Cast<object>()) : rows.GetValue(column)).Append('\n');
                }
            }
        }

        return all.ToString();
    }

    public sealed class OnSqlite(SqliteService service) : RosterFileTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : RosterFileTests(service), IClassFixture<PostgreSqlService>;
}
