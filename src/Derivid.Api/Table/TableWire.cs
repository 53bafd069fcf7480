using Derivid.Contracts;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Derivid.Store.Tables;

namespace Derivid.Api.Table;

/// <summary>Puts rows of the reference table into their wire form.</summary>
public static class TableWire
{
    extension(ParentItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="parent">The row.</param>
        public static ParentItem Of(Parent parent)
        {
            ArgumentNullException.ThrowIfNull(parent);
            return new ParentItem(
                parent.Key,
                parent.Name,
                parent.Synonyms,
                parent.CasNumber,
                parent.Smiles,
                parent.Formula,
                parent.MolarMass,
                parent.Kind,
                parent.Hazards,
                parent.Note);
        }
    }

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
                ParentItem.Of(table.Parents.Single(p => p.Key == key)),
                [.. table.Constants.Where(c => c.ParentKey == key).Select(ConstantItem.Of)],
                [.. table.Derivatives.Where(d => d.ParentKey == key).Select(d => DerivativeItem.Of(d, served))]);
        }
    }

    extension(ConstantItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="constant">The row.</param>
        public static ConstantItem Of(ParentConstant constant)
        {
            ArgumentNullException.ThrowIfNull(constant);
            return new ConstantItem(
                constant.Property,
                constant.Property == ParentProperty.EnthalpyOfFusion ? "J/mol" : "°C",
                constant.Low,
                constant.High,
                constant.PressureKilopascals,
                constant.SourceKey,
                constant.Locator,
                constant.Verification,
                constant.Note);
        }
    }

    extension(DerivativeItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="derivative">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static DerivativeItem Of(Derivative derivative, ServedTable table)
        {
            ArgumentNullException.ThrowIfNull(derivative);
            ArgumentNullException.ThrowIfNull(table);
            return new DerivativeItem
            {
                Key = derivative.Key,
                Parent = derivative.ParentKey,
                ParentName = table.ParentByKey[derivative.ParentKey].Name,
                Kind = derivative.KindKey,
                CarbonylsCondensed = derivative.CarbonylsCondensed,
                Form = derivative.Form,
                LowCelsius = derivative.LowCelsius,
                HighCelsius = derivative.HighCelsius,
                IsUnusual = derivative.IsUnusual,
                Decomposes = derivative.Decomposes,
                Colour = derivative.ColourKey,
                Source = derivative.SourceKey,
                Locator = derivative.Locator,
                AsPrinted = derivative.AsPrinted,
                Corrected = derivative.Corrected,
                Verification = derivative.Verification,
                Note = derivative.Note,
            };
        }
    }

    extension(DerivativeKindItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="kind">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static DerivativeKindItem Of(DerivativeKind kind, ReferenceTable table)
        {
            ArgumentNullException.ThrowIfNull(kind);
            ArgumentNullException.ThrowIfNull(table);
            return new DerivativeKindItem
            {
                Key = kind.Key,
                Name = kind.Name,
                Synonyms = kind.Synonyms,
                Reagent = new ReagentItem(kind.ReagentName, kind.ReagentSmiles, kind.ReagentFormula, kind.ReagentMolarMass),
                ReagentsPerCarbonyl = kind.ReagentsPerCarbonyl,
                WatersPerCarbonyl = kind.WatersPerCarbonyl,
                ClosesTo = kind.ClosesTo,
                TestKey = kind.TestKey,
                ColourInforms = kind.ColourInforms,
                RecrystallisationSolvents = kind.RecrystallisationSolvents,
                UsualLowCelsius = kind.UsualLowCelsius,
                UsualHighCelsius = kind.UsualHighCelsius,
                Minutes = kind.Minutes,
                Hazard = kind.Hazard,
                Cautions = kind.Cautions,
                Source = kind.SourceKey,
                Records = table.Derivatives.Count(d => d.KindKey == kind.Key),
                ColourExpectations = [.. table.ColourExpectations
                    .Where(e => e.KindKey == kind.Key)
                    .Select(e => ColourExpectationItem.Of(e, table.Colours))],
            };
        }
    }

    extension(ColourItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="colour">The row.</param>
        public static ColourItem Of(Colour colour)
        {
            ArgumentNullException.ThrowIfNull(colour);
            return new ColourItem(colour.Key, colour.Name, colour.Rank, colour.Synonyms);
        }
    }

    extension(ColourExpectationItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="expectation">The row.</param>
        /// <param name="colours">The vocabulary, by rank.</param>
        public static ColourExpectationItem Of(ColourExpectation expectation, IReadOnlyList<Colour> colours)
        {
            ArgumentNullException.ThrowIfNull(expectation);
            var probabilities = new OrderedDictionary<string, double>(
                colours.Zip(expectation.Weights, (colour, weight) => KeyValuePair.Create(colour.Key, weight)));
            return new ColourExpectationItem(
                expectation.Order,
                expectation.StructureClass,
                probabilities,
                expectation.IsAssumed,
                expectation.SourceKey,
                expectation.Note);
        }
    }

    extension(SpotTestItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="test">The row.</param>
        /// <param name="table">The table it stands in.</param>
        public static SpotTestItem Of(SpotTest test, ReferenceTable table)
        {
            ArgumentNullException.ThrowIfNull(test);
            ArgumentNullException.ThrowIfNull(table);
            return new SpotTestItem
            {
                Key = test.Key,
                Name = test.Name,
                Synonyms = test.Synonyms,
                Question = QuestionItem.Of(table.Questions.Single(q => q.Key == test.QuestionKey)),
                PositiveLooksLike = test.PositiveLooksLike,
                ReadWithinMinutes = test.ReadWithinMinutes,
                Minutes = test.Minutes,
                Hazard = test.Hazard,
                Cautions = test.Cautions,
                PositiveRateIfYes = test.PositiveRateIfYes,
                PositiveRateIfNo = test.PositiveRateIfNo,
                KnownExceptions = test.KnownExceptions,
                Source = test.SourceKey,
                Responses = [.. table.Responses.Where(r => r.TestKey == test.Key).Select(ResponseItem.Of)],
            };
        }
    }

    extension(QuestionItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="question">The row.</param>
        public static QuestionItem Of(SpotTestQuestion question)
        {
            ArgumentNullException.ThrowIfNull(question);
            return new QuestionItem(
                question.Key, question.Text, question.ContraryRate, question.IsAssumed, question.SourceKey);
        }
    }

    extension(ResponseItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="response">The row.</param>
        public static ResponseItem Of(SpotTestResponse response)
        {
            ArgumentNullException.ThrowIfNull(response);
            return new ResponseItem(
                response.Order,
                response.AppliesTo,
                response.PositiveRate,
                response.AnswersYes,
                response.IsAssumed,
                response.SourceKey,
                response.Note);
        }
    }

    extension(StandardItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="standard">The row.</param>
        public static StandardItem Of(MeltingPointStandard standard)
        {
            ArgumentNullException.ThrowIfNull(standard);
            return new StandardItem(
                standard.Key,
                standard.Name,
                standard.CasNumber,
                standard.ClearPointCelsius,
                standard.SourceKey,
                standard.Verification,
                standard.Note);
        }
    }

    extension(SourceItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="source">The row.</param>
        public static SourceItem Of(Source source)
        {
            ArgumentNullException.ThrowIfNull(source);
            return new SourceItem(
                source.Key, source.Citation, source.Address, source.Grade, source.Family, source.HowRead);
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
