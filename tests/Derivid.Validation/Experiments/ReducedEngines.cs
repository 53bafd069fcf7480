using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>Engines over the table without one parent each and the values held out with it, built when first asked for and then kept.</summary>
/// <param name="table">The table.</param>
/// <param name="settings">The engine's settings.</param>
public sealed class ReducedEngines(BenchTable table, ModelSettings settings)
{
    private readonly Lazy<IdentificationEngine>[] _engines = [.. table.Parents.Select((removed, index) =>
        new Lazy<IdentificationEngine>(() => new IdentificationEngine(TableSnapshot.Build(
            table.Known(BenchTable.Keep(table.Table, parent => parent != removed.Key), index), settings))))];

    /// <summary>The engine without one parent.</summary>
    public IdentificationEngine Without(int removed) => _engines[removed].Value;
}
