using System.Diagnostics;
using System.Runtime.Loader;
using System.Text.Json;
using Derivid.Core.Teaching;
using NJsonSchema.CodeGeneration.CSharp;
using NSwag;
using NSwag.CodeGeneration.CSharp;
using NSwag.CodeGeneration.OperationNameGenerators;

namespace Derivid.Api.Tests.Clients;

/// <summary>
/// What general-purpose tools make of the published document: a linter finds nothing, and the clients that two generators make of
/// it compile and take a class from its roster to its gradebook.
/// </summary>
public sealed class GeneratedClientTests(SqliteService service) : IClassFixture<SqliteService>, IClassFixture<Node>
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task LinterFindsNothing() => await Node.DoAsync("lint");

    [Fact]
    public async Task ClientInTypeScriptGradesAClass()
    {
        await Node.DoAsync("generate");
        await Node.DoAsync("compile");
        using var instructor = await service.Service.ClientAsAsync(Role.Instructor);
        await JourneyEndsWellAsync(instructor, await Node.RunScriptAsync(
            "compiled/journey.js", ("DERIVID_ADDRESS", Address), ("DERIVID_KEY", KeyOf(instructor))));
    }

    [Fact]
    public async Task ClientInCSharpGradesAClass()
    {
        var folder = Directory.CreateTempSubdirectory("derivid-generated-");
        var assembly = Path.Combine(folder.FullName, "generated.dll");
        await File.WriteAllTextAsync(Path.Combine(folder.FullName, "client.cs"), await GeneratedAsync(), Patience);
        await CompileAsync(assembly, Path.Combine(folder.FullName, "client.cs"), Path.Combine(Node.Folder, "journey.cs"));
        using var instructor = await service.Service.ClientAsAsync(Role.Instructor);
        var run = AssemblyLoadContext.Default.LoadFromAssemblyPath(assembly).GetType("Journey")!.GetMethod("RunAsync")!;
        await JourneyEndsWellAsync(instructor, await (Task<string>)run.Invoke(null, [Address, KeyOf(instructor)])!);
        folder.Delete(recursive: true);
    }

    private string Address => service.Client.BaseAddress!.GetLeftPart(UriPartial.Authority);

    private static string KeyOf(HttpClient client) => client.DefaultRequestHeaders.Authorization!.Parameter!;

    // What the journey tells is held against what the service answers to whoever asks it without a generated client.
    private static async Task JourneyEndsWellAsync(HttpClient instructor, string told)
    {
        var end = JsonElement.Parse(told);
        var course = end.GetProperty("course").GetString();
        Assert.Equal("urn:derivid:problem:scope-missing", end.GetProperty("refusal").GetString());
        Assert.Equal((125, 127), (end.GetProperty("onset").GetDouble(), end.GetProperty("clear").GetDouble()));
        var book = await instructor.JsonAtAsync($"/api/v1/courses/{course}/gradebook");
        Assert.True(book.GetProperty("isPublished").GetBoolean());
        Assert.Equal(
            book.GetProperty("students").EnumerateArray().Select(row => (
                row.GetProperty("student").GetString(), row.GetProperty("status").GetString(), row.GetProperty("percentage").GetDouble())),
            end.GetProperty("gradebook").EnumerateArray().Select(row => (row[0].GetString(), row[1].GetString(), row[2].GetDouble())));
        Assert.Equal([true, false], book.GetProperty("students").EnumerateArray().Select(row => row.GetProperty("percentage").GetDouble() > 0));
    }

    private static async Task<string> GeneratedAsync()
    {
        var document = await OpenApiDocument.FromFileAsync(ExampleFiles.InFolder("derivid.v1.json"), Patience);
        var settings = new CSharpClientGeneratorSettings
        {
            ClassName = "DerividApi",
            UseBaseUrl = false,
            WrapResponses = true,
            OperationNameGenerator = new SingleClientFromOperationIdOperationNameGenerator(),
            CSharpGeneratorSettings = { Namespace = "Generated", JsonLibrary = CSharpJsonLibrary.NewtonsoftJson, GenerateNullableReferenceTypes = true },
        };
        return new CSharpClientGenerator(document, settings).GenerateFile();
    }

    private static async Task CompileAsync(string assembly, params string[] sources)
    {
        var shared = Path.GetDirectoryName(typeof(object).Assembly.Location)!;
        var dotnet = Path.GetFullPath(Path.Combine(shared, "..", "..", ".."));
        var compiler = Directory.GetDirectories(Path.Combine(dotnet, "sdk"))
            .Select(sdk => Path.Combine(sdk, "Roslyn", "bincore", "csc.dll")).Where(File.Exists).Order(StringComparer.Ordinal).Last();
        var references = ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!).Split(Path.PathSeparator)
            .Where(file => Path.GetDirectoryName(file) == shared).Append(typeof(Newtonsoft.Json.JsonConvert).Assembly.Location);
        var response = Path.ChangeExtension(assembly, ".rsp");
        await File.WriteAllLinesAsync(
            response,
            [
                "-noconfig", "-nostdlib", "-target:library", "-nullable+", "-warnaserror+",
                $"-out:\"{assembly}\"", .. references.Select(file => $"-r:\"{file}\""), .. sources.Select(file => $"\"{file}\""),
            ],
            Patience);
        var start = new ProcessStartInfo(Path.Combine(dotnet, "dotnet"), [compiler, "@" + response]) { RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        var told = await process.StandardOutput.ReadToEndAsync(Patience);
        await process.WaitForExitAsync(Patience);
        Assert.True(process.ExitCode == 0, told);
    }
}
