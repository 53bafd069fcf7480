using System.Xml.Linq;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>Doors between the rooms open inward only.</summary>
public sealed class ArchitectureTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Derivid.Core"] = [],
        ["Derivid.Contracts"] = ["Derivid.Core"],
        ["Derivid.Store"] = ["Derivid.Core"],
        ["Derivid.Store.Sqlite"] = ["Derivid.Store"],
        ["Derivid.Store.PostgreSql"] = ["Derivid.Store"],
        ["Derivid.Api"] =
        [
            "Derivid.Contracts", "Derivid.Core", "Derivid.Page", "Derivid.Store", "Derivid.Store.Sqlite", "Derivid.Store.PostgreSql",
        ],
        ["Derivid.Client"] = ["Derivid.Contracts"],
        ["Derivid.Cli"] = ["Derivid.Client"],
        ["Derivid.Page"] = ["Derivid.Client", "Derivid.Contracts"],
    };

    [Fact]
    public void ProjectsReferToThoseInsideThemOnly()
    {
        var projects = Directory.GetFiles(RepositoryFiles.At("src"), "*.csproj", SearchOption.AllDirectories);

        Assert.Contains(projects, p => p.EndsWith("Derivid.Core.csproj", StringComparison.Ordinal));
        Assert.All(projects, project =>
        {
            var room = Path.GetFileNameWithoutExtension(project);
            var references = XDocument.Load(project).Descendants("ProjectReference")
                .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value));
            Assert.Contains(room, Allowed.Keys);
            Assert.Empty(references.Except(Allowed[room]));
        });
    }

    [Fact]
    public void CoreTakesNoPackageIntoTheService()
    {
        var packages = XDocument.Load(RepositoryFiles.At("src", "Derivid.Core", "Derivid.Core.csproj"))
            .Descendants("PackageReference");

        // The base library's own vectors are shipped apart from it.
        var others = packages.Where(p => p.Attribute("Include")?.Value != "System.Numerics.Tensors");

        Assert.All(others, p => Assert.Equal("all", p.Attribute("PrivateAssets")?.Value));
    }

    [Fact]
    public void CoreRefersToTheBaseLibraryOnly()
    {
        string[] forbidden = ["System.Net", "System.Text.Json", "System.Data", "System.Console", "Microsoft"];
        var references = typeof(Core.Compounds.Parent).Assembly.GetReferencedAssemblies().Select(a => a.Name!).ToList();

        Assert.NotEmpty(references);
        Assert.DoesNotContain(references, r => forbidden.Any(f => r.StartsWith(f, StringComparison.Ordinal)));
    }

    [Fact]
    public void StoreKnowsNothingOfHttp()
    {
        var references = typeof(Store.DerividContext).Assembly.GetReferencedAssemblies().Select(a => a.Name!);

        Assert.DoesNotContain(references, r => r.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal));
    }
}
