using Derivid.Core.Compounds;
using Derivid.Core.Ranking.Forecasts;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>One derivative kind laid out for ranking.</summary>
public sealed class KindSnapshot
{
    private readonly Lazy<TemperatureForecast> _forecast;

    private KindSnapshot(
        DerivativeKind kind,
        ListedTemperatures listed,
        PrecipitateRates precipitates,
        ColourTable? colours,
        ModelSettings settings)
    {
        Kind = kind;
        Listed = listed;
        Precipitates = precipitates;
        Colours = colours;
        _forecast = new Lazy<TemperatureForecast>(
            () => TemperatureForecast.Build(listed, settings, precipitates: precipitates));
    }

    /// <summary>The kind.</summary>
    public DerivativeKind Kind { get; }

    /// <summary>Listed melting ranges, by parent.</summary>
    public ListedTemperatures Listed { get; }

    /// <summary>What comes with its reagent, by parent.</summary>
    public PrecipitateRates Precipitates { get; }

    /// <summary>What making it is expected to tell. Worked out when first asked for.</summary>
    public TemperatureForecast Forecast => _forecast.Value;

    /// <summary>Colours, by parent. Missing: null, its colour says nothing about the parent.</summary>
    public ColourTable? Colours { get; }

    /// <summary>A record as it is laid out: whose it is, which form, and its values.</summary>
    internal static (string ParentKey, string Group, ListedTemperature Value) RowOf(Derivative record) => (
        record.ParentKey,
        $"{record.CarbonylsCondensed} {record.Form}",
        new ListedTemperature(
            record.LowCelsius,
            record.HighCelsius,
            record.Decomposes,
            record.Verification,
            record.Form,
            record.SourceKey,
            1));

    internal static KindSnapshot Build(DerivativeKind kind, ReferenceTable table, TableSnapshot snapshot)
    {
        var settings = snapshot.Settings;
        var records = table.Derivatives.Where(record => record.KindKey == kind.Key).ToList();
        var byParent = snapshot.ByParent(records.Select(RowOf), settings.DerivativeMelting);
        var appliesTo = StructureClass.Parse(kind.AppliesTo);
        var canHave = snapshot.Features
            .Select((features, i) => byParent[i].Length > 0 || appliesTo.Matches(features))
            .ToArray();
        var listed = new ListedTemperatures(
            byParent,
            parent => snapshot.Estimates.MeltingOf(snapshot.Parents[parent].Key, kind.Key),
            canHave,
            settings.DerivativeMelting with
            {
                ElsewhereWorth = settings.DerivativeMelting.ElsewhereWorth * settings.ElsewhereFactorByKind.GetValueOrDefault(kind.Key, 1),
            },
            settings.ScatterFactorByKind.GetValueOrDefault(kind.Key, 1),
            settings.OpenSet.DerivativeMeltingCelsius,
            settings.OpenSet.EvenShare);
        var colours = kind.ColourInforms ? ColourTable.Build(kind.Key, records, table, snapshot) : null;
        return new KindSnapshot(
            kind, listed, PrecipitateRates.Build(kind, listed, snapshot), colours, settings);
    }
}
