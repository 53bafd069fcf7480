using System.Globalization;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Reports;

/// <summary>The tables of the bench simulation.</summary>
public static class BenchPages
{
    private static readonly (string Name, string Format)[] Columns =
    [
        ("top-1", "0.000"), ("top-3", "0.000"), ("top-5", "0.000"), ("mean rank", "0.00"), ("log loss", "0.000"),
        ("Brier", "0.000"), ("ECE", "0.000"), ("none leads if absent", "0.00"), ("AUROC none", "0.000"),
    ];

    /// <summary>The worst figure of every bench over all rows and shares, and where it is.</summary>
    public static string Worst(IReadOnlyList<BenchReport> benches)
    {
        var table = new MarkdownTable(
            ["bench", "top-1 behind the ideal observer, at most", "behind the one who does not know the bench", "ECE, at most", "top-1 ahead of the best rule, at least",
                "log loss below the best rule, at least", "AUROC of none, two derivatives and b.p., at least", "the same, untold ideal observer", "and not knowing the bench"]);
        foreach (var bench in benches)
        {
            var none = bench.Rows.Where(IsNoneRow).MinBy(row => row.Of(Method.Engine)[8].Value)!;
            table.Add([
                bench.Parameters.Name,
                Where(bench.Rows.MaxBy(row => row.BehindIdeal.Value)!, row => row.BehindIdeal),
                Where(bench.Rows.MaxBy(row => row.BehindBlind.Value)!, row => row.BehindBlind),
                Where(bench.Rows.MaxBy(row => row.Of(Method.Engine)[6].Value)!, row => row.Of(Method.Engine)[6]),
                Where(bench.Rows.MinBy(row => row.AheadOfBaselines.Value)!, row => row.AheadOfBaselines),
                Where(bench.Rows.MinBy(row => row.LossBelowBaselines.Value)!, row => row.LossBelowBaselines),
                Where(none, row => row.Of(Method.Engine)[8]),
                none.Of(Method.IdealUntold)[8].Text("0.000"),
                none.Of(Method.IdealBlind)[8].Text("0.000"),
            ]);
        }

        return table.ToString();

        static string Where(RowReport row, Func<RowReport, Interval> figure) => string.Create(
            CultureInfo.InvariantCulture,
            $"{figure(row).Text("0.000")} with {EvidenceSets.Name(row.Row)}, {row.AbsentShare:P0} absent");
    }

    /// <summary>Every method on every row, with intervals, at one share of absent unknowns.</summary>
    public static string Methods(BenchReport bench, double absentShare)
    {
        var table = new MarkdownTable(["evidence", "method", .. Columns.Select(column => column.Name)]);
        foreach (var row in bench.Rows.Where(row => row.AbsentShare == absentShare))
        {
            foreach (var method in Enum.GetValues<Method>())
            {
                table.Add([
                    EvidenceSets.Name(row.Row),
                    Name(method),
                    .. row.Of(method).Select((figure, i) => figure.Text(Columns[i].Format)),
                ]);
            }
        }

        return table.ToString();
    }

    /// <summary>What changes with the share of absent unknowns: log loss and calibration of engine and ideal observer.</summary>
    public static string Shares(BenchReport bench)
    {
        var table = new MarkdownTable(
            ["evidence", "absent", "engine log loss", "ideal", "untold", "engine ECE", "ideal ECE", "not knowing the bench, ECE", "engine AUROC of none", "untold"]);
        foreach (var row in bench.Rows)
        {
            table.Add([
                EvidenceSets.Name(row.Row),
                row.AbsentShare.ToString("P0", CultureInfo.InvariantCulture),
                row.Of(Method.Engine)[4].Text("0.000"),
                row.Of(Method.Ideal)[4].Text("0.000"),
                row.Of(Method.IdealUntold)[4].Text("0.000"),
                row.Of(Method.Engine)[6].Text("0.000"),
                row.Of(Method.Ideal)[6].Text("0.000"),
                row.Of(Method.IdealBlind)[6].Text("0.000"),
                row.Of(Method.Engine)[8].Text("0.000"),
                row.Of(Method.IdealUntold)[8].Text("0.000"),
            ]);
        }

        return table.ToString();
    }

    /// <summary>Engine against bound and rules.</summary>
    public static string Differences(BenchReport bench, double absentShare)
    {
        var table = new MarkdownTable(
            ["evidence", "ideal top-1 less engine", "not knowing the bench", "engine top-1 less best rule", "best rule's log loss less engine"]);
        foreach (var row in bench.Rows.Where(row => row.AbsentShare == absentShare))
        {
            table.Add([
                EvidenceSets.Name(row.Row),
                row.BehindIdeal.Text("0.000"),
                row.BehindBlind.Text("0.000"),
                row.AheadOfBaselines.Text("0.000"),
                row.LossBelowBaselines.Text("0.000"),
            ]);
        }

        return table.ToString();
    }

    /// <summary>Enters every figure.</summary>
    public static void Enter(FigureSheet sheet, BenchReport bench)
    {
        foreach (var row in bench.Rows)
        {
            var place = string.Create(
                CultureInfo.InvariantCulture, $"bench/{bench.Parameters.Name}/absent {row.AbsentShare:0.00}/{EvidenceSets.Name(row.Row)}");
            foreach (var method in Enum.GetValues<Method>())
            {
                foreach (var (figure, i) in row.Of(method).Select((figure, i) => (figure, i)))
                {
                    sheet.Add($"{place}/{method}/{Columns[i].Name}", figure);
                }
            }

            sheet.Add($"{place}/behind ideal top-1", row.BehindIdeal);
            sheet.Add($"{place}/behind blind ideal top-1", row.BehindBlind);
            sheet.Add($"{place}/ahead of best rule top-1", row.AheadOfBaselines);
            sheet.Add($"{place}/log loss below best rule", row.LossBelowBaselines);
        }
    }

    private static bool IsNoneRow(RowReport row) => EvidenceSets.NoneRows.Any(place => EvidenceSets.Rows[place] == row.Row);

    /// <summary>How well absent compounds are told from present ones, by what is listed.</summary>
    public static string Listing(IReadOnlyList<NoneByListing> parts)
    {
        var table = new MarkdownTable(["present compounds", "students", "engine", "ideal observer, untold"]);
        foreach (var part in parts)
        {
            table.Add([
                part.Name,
                part.Present.ToString(CultureInfo.InvariantCulture),
                part.Engine.ToString("0.000", CultureInfo.InvariantCulture),
                part.Untold.ToString("0.000", CultureInfo.InvariantCulture),
            ]);
        }

        return table.ToString();
    }

    /// <summary>The parents found least often, and why.</summary>
    public static string Hardest(IReadOnlyList<HardCompound> compounds)
    {
        var table = new MarkdownTable(["compound (listed °C)", "engine top-1", "ideal top-1", "named instead (listed °C)"]);
        foreach (var compound in compounds)
        {
            table.Add([
                compound.Name,
                compound.Top1.ToString("0.00", CultureInfo.InvariantCulture),
                compound.Ideal.ToString("0.00", CultureInfo.InvariantCulture),
                compound.NamedInstead,
            ]);
        }

        return table.ToString();
    }

    /// <summary>What each piece of evidence tells.</summary>
    public static string Information(IReadOnlyList<EvidenceInformation> pieces)
    {
        var table = new MarkdownTable(["evidence alone", "bits", "students"]);
        foreach (var piece in pieces)
        {
            table.Add([
                piece.Name,
                piece.Bits.ToString("0.00", CultureInfo.InvariantCulture),
                piece.Cases.ToString(CultureInfo.InvariantCulture),
            ]);
        }

        return table.ToString();
    }

    private static string Name(Method method) =>
        method switch
        {
            Method.Engine => "**engine**",
            Method.Ideal => "ideal observer",
            Method.IdealUntold => "ideal observer, untold",
            Method.IdealBlind => "ideal observer, untold, not knowing the bench",
            Method.Nearest => "nearest listed",
            Method.Window => "±5 °C window",
            _ => "window and tests by hand",
        };
}
