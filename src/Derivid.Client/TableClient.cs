using Derivid.Contracts;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;

namespace Derivid.Client;

/// <summary>
/// Reading the reference table. Each list stays with the version it began with; a version that isn't given is the current
/// one.
/// </summary>
public sealed class TableClient
{
    private readonly Wire _wire;

    internal TableClient(Wire wire) => _wire = wire;

    /// <summary>The released versions, newest first.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<TableVersionItem> ListVersionsAsync(CancellationToken cancellationToken = default) =>
        _wire.ListAsync<TableVersionItem>("table-versions", cancellationToken);

    /// <summary>The version used when nothing else is asked for.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<TableVersionItem> GetCurrentVersionAsync(CancellationToken cancellationToken = default) =>
        await ListVersionsAsync(cancellationToken).FirstAsync(version => version.IsCurrent, cancellationToken);

    /// <summary>One released version.</summary>
    /// <param name="number">Its number, from 1.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<TableVersionItem> GetVersionAsync(int number, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<TableVersionItem>(FormattableString.Invariant($"table-versions/{number}"), cancellationToken);

    /// <summary>The parents that fit, in order of their keys.</summary>
    /// <param name="query">Which, and of which version. Missing: all of the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<Parent> ListParentsAsync(
        ParentQuery? query = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<Parent>(Address.Of("parents", query ?? new()), cancellationToken);

    /// <summary>One parent, with all that the table holds of it.</summary>
    /// <param name="name">Its key, name, a listed synonym or the CAS number.</param>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ParentDetail> GetParentAsync(
        string name, int? version = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ParentDetail>(
            Address.Of($"parents/{Address.Segment(name)}", new VersionQuery { TableVersion = version }), cancellationToken);

    /// <summary>A drawing of a parent, or of a derivative of it.</summary>
    /// <param name="name">The parent's key, name, a listed synonym or the CAS number.</param>
    /// <param name="kind">The kind of derivative. Missing: the parent itself is drawn.</param>
    /// <param name="carbonylsCondensed">Carbonyl groups that reacted. Missing: as the table's records have it.</param>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>A whole SVG document.</returns>
    /// <exception cref="DerividException">Among others: the table leaves open what the derivative is.</exception>
    public Task<string> GetStructureAsync(
        string name,
        string? kind = null,
        int? carbonylsCondensed = null,
        int? version = null,
        CancellationToken cancellationToken = default) =>
        _wire.GetTextAsync(
            Address.Of(
                $"parents/{Address.Segment(name)}/structure",
                new DrawingOfParent { Kind = kind, CarbonylsCondensed = carbonylsCondensed, TableVersion = version }),
            cancellationToken);

    /// <summary>The derivative records that fit, in order of their keys, or closest first.</summary>
    /// <param name="query">Which, and of which version. Missing: all of the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<DerivativeItem> ListDerivativesAsync(
        DerivativeQuery? query = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<DerivativeItem>(Address.Of("derivatives", query ?? new()), cancellationToken);

    /// <summary>The kinds of derivative.</summary>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<DerivativeKindItem> ListDerivativeKindsAsync(
        int? version = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<DerivativeKindItem>(Address.Of("derivative-kinds", new TableQuery { TableVersion = version }), cancellationToken);

    /// <summary>The spot tests.</summary>
    /// <param name="questionKey">Key of the question they ask. Missing: all.</param>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<SpotTestItem> ListSpotTestsAsync(
        string? questionKey = null, int? version = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<SpotTestItem>(
            Address.Of("spot-tests", new SpotTestQuery { QuestionKey = questionKey, TableVersion = version }), cancellationToken);

    /// <summary>The vocabulary of precipitate colours, palest first.</summary>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<Colour> ListColoursAsync(
        int? version = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<Colour>(Address.Of("colours", new TableQuery { TableVersion = version }), cancellationToken);

    /// <summary>The melting-point standards.</summary>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<MeltingPointStandard> ListStandardsAsync(
        int? version = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<MeltingPointStandard>(Address.Of("melting-point-standards", new TableQuery { TableVersion = version }), cancellationToken);

    /// <summary>The sources.</summary>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<Source> ListSourcesAsync(
        int? version = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<Source>(Address.Of("sources", new TableQuery { TableVersion = version }), cancellationToken);

    /// <summary>One source.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Source> GetSourceAsync(
        string key, int? version = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<Source>(
            Address.Of($"sources/{Address.Segment(key)}", new VersionQuery { TableVersion = version }), cancellationToken);

    /// <summary>What was added, changed and removed on the way from one version to another.</summary>
    /// <param name="from">The one.</param>
    /// <param name="to">The other; it may be the older one.</param>
    /// <param name="list">Only in this list, such as "derivatives". Missing: in all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ChangeItem> CompareAsync(
        int from, int to, string? list = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ChangeItem>(
            Address.Of(FormattableString.Invariant($"table-versions/{from}/differences/{to}"), new ChangeQuery { Table = list }),
            cancellationToken);

    /// <summary>Writes a version out. Versions of equal content give equal bytes.</summary>
    /// <param name="version">The version.</param>
    /// <param name="list">One list, such as "derivatives". Missing: all; as CSV a ZIP archive with a file a list.</param>
    /// <param name="format">How.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The bytes, to be read to their end and disposed of.</returns>
    public async Task<Stream> ExportAsync(
        int version, string? list, ExportFormat format, CancellationToken cancellationToken = default)
    {
        var file = (list, format) switch
        {
            ({ } name, _) => $"tables/{Address.Segment(name)}.{WireJson.Word(format)}",
            (null, ExportFormat.Csv) => "export.zip",
            _ => "export.json",
        };
        var answer = await _wire.SendAsync(
            Wire.Request(HttpMethod.Get, FormattableString.Invariant($"table-versions/{version}/{file}")), cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>Writes a version out as a Data Package (https://datapackage.org), to be read by programs and cited.</summary>
    /// <param name="version">The version.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>A ZIP archive, to be read to its end and disposed of. Equal bytes for the same version.</returns>
    public async Task<Stream> ExportDataPackageAsync(int version, CancellationToken cancellationToken = default)
    {
        var answer = await _wire.SendAsync(
            Wire.Request(HttpMethod.Get, FormattableString.Invariant($"table-versions/{version}/data-package.zip")), cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>What a version still lacks; needs an instructor's key.</summary>
    /// <param name="version">The version. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<CoverageItem> GetCoverageAsync(int? version = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<CoverageItem>(Address.Of("coverage", new VersionQuery { TableVersion = version }), cancellationToken);

    /// <summary>What follows from a structure; stores nothing.</summary>
    /// <param name="smiles">The structure in the OpenSMILES notation.</param>
    /// <param name="name">The name meant for it, to look for parents of a similar one. Missing: structures only are compared.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<StructureItem> DescribeStructureAsync(
        string smiles, string? name = null, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<StructureItem>("structures", new StructureRequest { Smiles = smiles, Name = name }, null, cancellationToken);

    /// <summary>A drawing of any structure; stores nothing; needs an instructor's key.</summary>
    /// <param name="smiles">The structure in the OpenSMILES notation.</param>
    /// <param name="name">What the drawing is called. Missing: by its notation.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>A whole SVG document.</returns>
    public Task<string> DrawStructureAsync(
        string smiles, string? name = null, CancellationToken cancellationToken = default) =>
        _wire.GetTextAsync(Address.Of("structures/drawing", new DrawingQuery { Smiles = smiles, Name = name }), cancellationToken);
}

/// <summary>How to write the table out.</summary>
public enum ExportFormat
{
    /// <summary>CSV in UTF-8, with the columns of the seed tables.</summary>
    Csv,

    /// <summary>JSON.</summary>
    Json,
}
