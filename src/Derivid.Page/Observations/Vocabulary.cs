using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Colours;
using Derivid.Core.Melting;

namespace Derivid.Page.Observations;

/// <summary>The words an observation is made of: kinds of derivative, spot tests, colours, melting-point standards.</summary>
public sealed record Vocabulary(
    IReadOnlyList<DerivativeKindItem> Kinds,
    IReadOnlyList<SpotTestItem> Tests,
    IReadOnlyList<Colour> Colours,
    IReadOnlyList<MeltingPointStandard> Standards)
{
    /// <summary>Fetches it.</summary>
    /// <param name="client">The service.</param>
    /// <param name="version">Version of the table. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<Vocabulary> LoadAsync(DerividClient client, int? version, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        var kinds = client.Table.ListDerivativeKindsAsync(version, cancellationToken).ToListAsync(cancellationToken).AsTask();
        var tests = client.Table.ListSpotTestsAsync(null, version, cancellationToken).ToListAsync(cancellationToken).AsTask();
        var colours = client.Table.ListColoursAsync(version, cancellationToken).ToListAsync(cancellationToken).AsTask();
        var standards = client.Table.ListStandardsAsync(version, cancellationToken).ToListAsync(cancellationToken).AsTask();
        return new Vocabulary(await kinds, await tests, await colours, await standards);
    }

    /// <summary>The part of it a course offers.</summary>
    /// <param name="kinds">Keys of its derivative kinds.</param>
    /// <param name="tests">Keys of its spot tests.</param>
    public Vocabulary Of(IReadOnlyCollection<string> kinds, IReadOnlyCollection<string> tests) => this with
    {
        Kinds = [.. Kinds.Where(kind => kinds.Contains(kind.Key))],
        Tests = [.. Tests.Where(test => tests.Contains(test.Key))],
    };

    /// <summary>A kind's name.</summary>
    /// <param name="key">Its key.</param>
    public string KindName(string key) => Kinds.FirstOrDefault(kind => kind.Key == key)?.Name ?? key;

    /// <summary>A test's name.</summary>
    /// <param name="key">Its key.</param>
    public string TestName(string key) => Tests.FirstOrDefault(test => test.Key == key)?.Name ?? key;

    /// <summary>A melting-point standard's name.</summary>
    /// <param name="key">Its key.</param>
    public string StandardName(string key) => Standards.FirstOrDefault(standard => standard.Key == key)?.Name ?? key;

    /// <summary>A colour's name.</summary>
    /// <param name="key">Its key.</param>
    public string ColourName(string key) => Colours.FirstOrDefault(colour => colour.Key == key)?.Name ?? key;
}
