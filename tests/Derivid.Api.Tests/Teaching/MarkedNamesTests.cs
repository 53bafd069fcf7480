using Derivid.Api.Teaching;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Tests.Teaching;

public sealed class MarkedNamesTests
{
    // The ids of a class are little, what its reports say is much.
    [Fact]
    public async Task PageOfAListInTheOrderOfCodesReadsItsOwnRowsAlone()
    {
        var codes = new MarkingCodes(new byte[MarkingCodes.SecretLength]);
        var names = new MarkedNames(codes, isBlind: true);
        string[] ids = [.. Enumerable.Range(0, 7).Select(_ => Guid.CreateVersion7().ToString("N"))];
        List<string> read = [], told = [];
        for (string? beyond = null; told.Count < ids.Length; beyond = codes.OfReport(told[^1]))
        {
            var page = await names.PageAsync(
                (_, _) => throw new InvalidOperationException("Not in the order of ids."),
                () => Task.FromResult<IEnumerable<string>>(ids),
                some =>
                {
                    Assert.InRange(some.Count, 1, 3);
                    read.AddRange(some);
                    return Task.FromResult(some.Reverse().ToList());
                },
                id => id,
                beyond,
                3);
            told.AddRange(page);
        }

        Assert.Equal(ids.OrderBy(codes.OfReport, StringComparer.Ordinal), told);
        Assert.Equal(ids.Order(StringComparer.Ordinal), read.Order(StringComparer.Ordinal));
    }
}
