using System.Text;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests;

/// <summary>The generated files are up to date. With DERIVID_RESEAL=1 they are rewritten first.</summary>
public sealed class SealTests
{
    private const int TableVersion = 1;

    [Fact]
    public void ManifestSealsEveryTableFile()
    {
        var fresh = new SeedManifest(
            TableVersion,
            [.. SeedFolder.TableFiles().Select(file => SeedManifest.Describe(file, SeedFolder.Bytes(file)))]);
        if (SeedFolder.Reseals)
        {
            SeedFolder.Write(SeedManifest.FileName, fresh.ToJson());
        }

        Assert.Equal(fresh.ToJson(), Encoding.UTF8.GetString(SeedFolder.Bytes(SeedManifest.FileName)));
    }

    [Fact]
    public void ReportOfOpenPointsIsFresh()
    {
        var fresh = OpenPointsReport.Of(SeedFolderTable.Read(), SeedFolder.Read(LeftOut.File));
        if (SeedFolder.Reseals)
        {
            SeedFolder.Write(OpenPointsReport.FileName, fresh);
        }

        Assert.Equal(fresh, Encoding.UTF8.GetString(SeedFolder.Bytes(OpenPointsReport.FileName)));
    }

    [Fact]
    public void AlteredFileIsRefused()
    {
        var bytes = SeedFolder.Bytes("colours.csv");
        var manifest = new SeedManifest(TableVersion, [SeedManifest.Describe("colours.csv", bytes)]);
        manifest.Verify("colours.csv", bytes);
        bytes[^2] ^= 1;

        var refusal = Assert.Throws<SeedTableException>(() => manifest.Verify("colours.csv", bytes));

        Assert.Contains("colours.csv: SHA-256", refusal.Message, StringComparison.Ordinal);
    }
}
