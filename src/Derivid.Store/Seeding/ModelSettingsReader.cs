using System.Text.Json;
using Derivid.Core.Ranking;

namespace Derivid.Store.Seeding;

/// <summary>Reads the ranking model's numbers from seed-tables/model-settings.json.</summary>
public static class ModelSettingsReader
{
    private const string KindFactorPrefix = "scatterFactorByKind.";

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web);

    /// <summary>The settings built into this version of the service.</summary>
    /// <exception cref="InvalidDataException">The built-in file is not as this version expects it.</exception>
    public static ModelSettings BuiltIn()
    {
        using var stream = typeof(ModelSettingsReader).Assembly.GetManifestResourceStream("seed-tables/model-settings.json")
            ?? throw new InvalidDataException("seed-tables/model-settings.json is not built in.");
        return Read(stream);
    }

    /// <summary>Reads a settings file.</summary>
    /// <param name="stream">UTF-8 JSON.</param>
    /// <returns>The settings.</returns>
    /// <exception cref="InvalidDataException">A number is missing, unknown, twice there or without an origin.</exception>
    public static ModelSettings Read(Stream stream)
    {
        var file = JsonSerializer.Deserialize<SettingsFile>(stream, Options)
            ?? throw new InvalidDataException("The settings file is empty.");
        var numbers = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var number in file.Numbers)
        {
            if (number.Origin is not ("published" or "fitted" or "chosen") || string.IsNullOrWhiteSpace(number.Basis))
            {
                throw new InvalidDataException($"{number.Name}: origin must be published, fitted or chosen, with a basis.");
            }

            if (!numbers.TryAdd(number.Name, number.Value))
            {
                throw new InvalidDataException($"{number.Name} stands there twice.");
            }
        }

        var settings = Build(file.Version, new Taker(numbers));
        return numbers.Count == 0
            ? settings
            : throw new InvalidDataException($"Unknown settings: {string.Join(", ", numbers.Keys)}.");
    }

    private static ModelSettings Build(string version, Taker take) =>
        new()
        {
            Version = version,
            DerivativeMelting = Scatter(take, "derivativeMelting"),
            ParentMelting = Scatter(take, "parentMelting"),
            Boiling = Scatter(take, "boiling"),
            BoilingLow = new BoilingLowSettings
            {
                Celsius = take.One("boilingLow.celsius"),
                GrossShare = take.One("boilingLow.grossShare"),
                GrossCelsius = take.One("boilingLow.grossCelsius"),
            },
            Care = new CareSettings
            {
                UncheckedCelsius = take.One("care.uncheckedCelsius"),
                CalibratedCelsius = take.One("care.calibratedCelsius"),
                PerSpanCelsius = take.One("care.perSpanCelsius"),
                UnstatedSpanCelsius = take.One("care.unstatedSpanCelsius"),
            },
            Commonness = new CommonnessSettings
            {
                EverydayWeight = take.One("commonness.everydayWeight"),
                UsualWeight = take.One("commonness.usualWeight"),
                RareWeight = take.One("commonness.rareWeight"),
            },
            ScatterFactorByKind = take.AllUnder(KindFactorPrefix),
            Depression = new DepressionSettings
            {
                ImpureShareRecrystallised = take.One("depression.impureShareRecrystallised"),
                ImpureShareUnstated = take.One("depression.impureShareUnstated"),
                ImpureShareCrude = take.One("depression.impureShareCrude"),
                PureSpanCelsius = take.One("depression.pureSpanCelsius"),
                ImpureSpanCelsius = take.One("depression.impureSpanCelsius"),
                BaseCelsius = take.One("depression.baseCelsius"),
                PerSpanCelsius = take.One("depression.perSpanCelsius"),
                WetShare = take.One("depression.wetShare"),
                WetLowCelsius = take.One("depression.wetLowCelsius"),
                WetSpanCelsius = take.One("depression.wetSpanCelsius"),
            },
            Colour = new ColourSettings
            {
                CallSteps = take.One("colour.callSteps"),
                LapseShare = take.One("colour.lapseShare"),
                RecordedShare = take.One("colour.recordedShare"),
            },
            Precipitate = new PrecipitateSettings
            {
                ReadyShare = take.One("precipitate.readyShare"),
                SlowShare = take.One("precipitate.slowShare"),
                RingClosingShare = take.One("precipitate.ringClosingShare"),
                FalseShare = take.One("precipitate.falseShare"),
                OilShare = take.One("precipitate.oilShare"),
                LowMeltingOilShare = take.One("precipitate.lowMeltingOilShare"),
                OilFallCelsius = take.One("precipitate.oilFallCelsius"),
            },
            OpenSet = new OpenSetSettings
            {
                Prior = take.One("openSet.prior"),
                DerivativeMeltingCelsius = take.One("openSet.derivativeMeltingCelsius"),
                ParentMeltingCelsius = take.One("openSet.parentMeltingCelsius"),
                BoilingCelsius = take.One("openSet.boilingCelsius"),
                MolarMassGramsPerMole = take.One("openSet.molarMassGramsPerMole"),
                EvenShare = take.One("openSet.evenShare"),
                MixedShare = take.One("openSet.mixedShare"),
                NotCarbonylShare = take.One("openSet.notCarbonylShare"),
            },
            State = new StateSettings
            {
                SpreadCelsius = take.One("state.spreadCelsius"),
                MistakeShare = take.One("state.mistakeShare"),
            },
            ElementFalsePositive = take.One("elementFalsePositive"),
            ElementFalseNegative = take.One("elementFalseNegative"),
            MolarMassGrossShare = take.One("molarMassGrossShare"),
            GroupLogRatio = take.One("groupLogRatio"),
        };

    private static ScatterSettings Scatter(Taker take, string prefix) =>
        new()
        {
            CoreRecalledCelsius = take.One($"{prefix}.coreRecalledCelsius"),
            CoreReadCelsius = take.One($"{prefix}.coreReadCelsius"),
            CoreCrossCheckedCelsius = take.One($"{prefix}.coreCrossCheckedCelsius"),
            ReadingCelsius = take.One($"{prefix}.readingCelsius"),
            DecompositionCelsius = take.One($"{prefix}.decompositionCelsius"),
            HotFactor = take.One($"{prefix}.hotFactor"),
            WideShare = take.One($"{prefix}.wideShare"),
            WideCelsius = take.One($"{prefix}.wideCelsius"),
            GrossShare = take.One($"{prefix}.grossShare"),
            ElsewhereWorth = take.One($"{prefix}.elsewhereWorth"),
            UnlistedFactor = take.One($"{prefix}.unlistedFactor"),
            LowestCelsius = take.One($"{prefix}.lowestCelsius"),
            HighestCelsius = take.One($"{prefix}.highestCelsius"),
        };

    /// <summary>Hands out each number once, so that what is left over is unknown.</summary>
    private sealed class Taker(Dictionary<string, double> numbers)
    {
        public double One(string name) =>
            numbers.Remove(name, out var value)
                ? value
                : throw new InvalidDataException($"The setting {name} is missing.");

        public Dictionary<string, double> AllUnder(string prefix) =>
            numbers.Keys
                .Where(name => name.StartsWith(prefix, StringComparison.Ordinal))
                .ToList()
                .ToDictionary(name => name[prefix.Length..], One, StringComparer.Ordinal);
    }

    private sealed record SettingsFile(string Version, IReadOnlyList<SettingRow> Numbers);

    private sealed record SettingRow(string Name, double Value, string Unit, string Origin, string Basis, string IfWrong);
}
