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

    /// <summary>Every method on every row, with intervals.</summary>
    public static string Methods(IReadOnlyList<RowReport> rows)
    {
        var table = new MarkdownTable(["evidence", "method", .. Columns.Select(column => column.Name)]);
        foreach (var row in rows)
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

    /// <summary>Engine against bound, baselines and the row without colour.</summary>
    public static string Differences(IReadOnlyList<RowReport> rows, IReadOnlyList<ColourGain> gains)
    {
        var table = new MarkdownTable(
            ["evidence", "ideal top-1 less engine", "engine top-1 less best baseline", "best baseline log loss less engine",
                "colour: top-1 gained", "colour: log loss gained"]);
        for (var i = 0; i < rows.Count; i++)
        {
            var gain = i % 2 == 1 ? gains[i / 2] : null;
            table.Add([
                EvidenceSets.Name(rows[i].Row),
                rows[i].BehindIdeal.Text("0.000"),
                rows[i].AheadOfBaselines.Text("0.000"),
                rows[i].LossBelowBaselines.Text("0.000"),
                gain?.Top1.Text("0.000") ?? "",
                gain?.LogLoss.Text("0.000") ?? "",
            ]);
        }

        return table.ToString();
    }

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
            Method.Nearest => "nearest listed",
            Method.Window => "±5 °C window",
            _ => "window and tests by hand",
        };
}
