using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;
using Derivid.Store.Tables;

namespace Derivid.Api.Table;

/// <summary>Puts rows of the reference table into their wire form.</summary>
public static class TableWire
{
    extension(ParentDetail)
    {
        /// <summary>Gathers what a table holds of a parent.</summary>
        /// <param name="served">The table.</param>
        /// <param name="key">The parent's key.</param>
        public static ParentDetail Of(ServedTable served, string key)
        {
            ArgumentNullException.ThrowIfNull(served);
            var table = served.Table;
            return new ParentDetail(
                table.Version,
                served.ParentByKey[key],
                [.. table.Constants.Where(c => c.ParentKey == key).Select(ConstantItem.Of)],
                [.. table.Derivatives.Where(d => d.ParentKey == key).Select(d => DerivativeItem.Of(d, served))]);
        }
    }

    extension(ConstantItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="row">The row.</param>
        public static ConstantItem Of(ParentConstant row)
        {
            ArgumentNullException.ThrowIfNull(row);
            return new ConstantItem(row, new ComputedOfConstant(row.Property == ParentProperty.EnthalpyOfFusion ? "J/mol" : "°C"));
        }
    }

    extension(DerivativeItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="row">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static DerivativeItem Of(Derivative row, ServedTable table)
        {
            ArgumentNullException.ThrowIfNull(row);
            ArgumentNullException.ThrowIfNull(table);
            return new DerivativeItem(row, new ComputedOfDerivative(table.ParentByKey[row.ParentKey].Name));
        }
    }

    extension(DerivativeKindItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="row">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static DerivativeKindItem Of(DerivativeKind row, ReferenceTable table)
        {
            ArgumentNullException.ThrowIfNull(row);
            ArgumentNullException.ThrowIfNull(table);
            return new DerivativeKindItem(row, new ComputedOfDerivativeKind(
                table.Derivatives.Count(d => d.KindKey == row.Key),
                [.. table.ColourExpectations.Where(e => e.KindKey == row.Key)]));
        }
    }

    extension(SpotTestItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="row">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static SpotTestItem Of(SpotTest row, ReferenceTable table)
        {
            ArgumentNullException.ThrowIfNull(row);
            ArgumentNullException.ThrowIfNull(table);
            return new SpotTestItem(row, new ComputedOfSpotTest(
                table.Questions.Single(q => q.Key == row.QuestionKey),
                [.. table.Responses.Where(r => r.TestKey == row.Key)]));
        }
    }

    extension(TableVersionItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="version">The version.</param>
        /// <param name="current">Number of the current one.</param>
        public static TableVersionItem Of(TableVersion version, int current)
        {
            ArgumentNullException.ThrowIfNull(version);
            return new TableVersionItem(
                version.Number,
                version.Number == current,
                DateTime.SpecifyKind(version.ReleasedAtUtc, DateTimeKind.Utc),
                version.Note,
                version.ContentHash,
                version.SourceCount,
                version.ParentCount,
                version.DerivativeKindCount,
                version.DerivativeCount,
                version.SpotTestCount);
        }
    }
}
