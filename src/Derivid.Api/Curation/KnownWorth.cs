using System.Runtime.CompilerServices;
using Derivid.Api.Table;
using Derivid.Core.Curation.Readings;

namespace Derivid.Api.Curation;

/// <summary>What is most worth checking of a version of the table, kept while that is served: reckoning it takes seconds.</summary>
internal static class KnownWorth
{
    private static readonly ConditionalWeakTable<ServedTable, Last> Known = [];

    /// <summary>The list, reckoned once however many ask for it.</summary>
    /// <param name="served">The version.</param>
    /// <param name="agreed">See <see cref="CheckingWorth.Of"/>.</param>
    public static IReadOnlyList<LineWorth> Of(ServedTable served, int agreed) =>
        Known.GetOrCreateValue(served).Of(agreed, () => CheckingWorth.Of(served.Snapshot, agreed: agreed));

    private sealed class Last
    {
        private readonly Lock _lock = new();
        private (int Agreed, Lazy<IReadOnlyList<LineWorth>> Worth)? _last;

        public IReadOnlyList<LineWorth> Of(int agreed, Func<IReadOnlyList<LineWorth>> reckon)
        {
            Lazy<IReadOnlyList<LineWorth>> worth;
            lock (_lock)
            {
                if (_last?.Agreed != agreed)
                {
                    _last = (agreed, new(reckon));
                }

                worth = _last.Value.Worth;
            }

            return worth.Value;
        }
    }
}
