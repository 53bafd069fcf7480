using System.Runtime.CompilerServices;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Drawing;
using Derivid.Core.Structures;
using Derivid.Core.Teaching;

namespace Derivid.Api.Curation;

/// <summary>Help for whoever adds to the table.</summary>
public static class CuratorHelpEndpoints
{
    private const int MostPairs = 1000;

    // Worked out once a version: it takes a look at every pair of parents.
    private static readonly ConditionalWeakTable<ServedTable, CoverageItem> Known = [];

    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapCuratorHelp(this RouteGroupBuilder api)
    {
        api.MapPost("/structures", ComputeAsync)
            .RequireRole(Role.Instructor)
            .WithTags("Curation")
            .TakesTurns()
            .WithName("describeStructure")
            .WithSummary("Work out what follows from a structure")
            .WithDescription(
                "Formula, molar mass, carbonyl environment, expected spot tests, derivatives with their formulas and molar "
                + "masses, parents of the table with the same structure or name, and what speaks against its being a carbonyl compound. Stores nothing.")
            .WithBody<StructureRequest>()
            .Produces<StructureItem>();
        api.MapGet("/structures/drawing", Draw)
            .RequireRole(Role.Instructor)
            .WithTags("Curation")
            .TakesTurns()
            .WithName("drawStructure")
            .WithSummary("Draw any structure")
            .WithDescription(
                $"The structure as SVG, as it would be drawn for a parent of the table; at most {StructureDrawing.MostAtoms} atoms, "
                + "hydrogens not counted. Configuration of double bonds is drawn, that of atoms (@) is not. Stores nothing.")
            .WithQuery<DrawingQuery>()
            .Produces<string>(StatusCodes.Status200OK, MediaTypes.Svg);
        api.MapGet("/coverage", CoverageAsync)
            .RequireRole(Role.Instructor)
            .WithTags("Curation")
            .TakesTurns()
            .WithName("getCoverage")
            .WithSummary("List what the table still lacks")
            .WithDescription(
                "Parents without a second derivative, values no independent source confirms, and pairs of parents that no "
                + "test and no derivative of the table tells apart.")
            .WithQuery<VersionQuery>()
            .Produces<CoverageItem>()
            .Produces(StatusCodes.Status304NotModified)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
    }

    private static IResult Draw(HttpContext context)
    {
        if (!RequestQuery.Read<DrawingQuery>(context.Request).Succeeded(out var query, out var problem))
        {
            return problem;
        }

        var reading = SmilesReader.Read(query.Smiles);
        if (!reading.IsRead)
        {
            return FieldErrors.One("?smiles", $"{Text.Quoted(query.Smiles)}: {reading.Error.Sentence}");
        }

        var atoms = reading.Molecule.Atoms.Length;
        return atoms > StructureDrawing.MostAtoms
            ? FieldErrors.One(
                "?smiles",
                $"{Text.Quoted(query.Smiles)} has {atoms} atoms; at most {StructureDrawing.MostAtoms} are drawn, hydrogens not counted.")
            : Reply.Svg(context, StructureDrawing.Svg(reading.Molecule, query.Name ?? query.Smiles));
    }

    private static async Task<IResult> ComputeAsync(HttpContext context, TableSnapshots tables)
    {
        if (!(await JsonBody.ReadAsync<StructureRequest>(context.Request)).Succeeded(out var request, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out problem))
        {
            return problem;
        }

        var reading = SmilesReader.Read(request.Smiles);
        if (!reading.IsRead)
        {
            return FieldErrors.One("/smiles", $"{Text.Quoted(request.Smiles)}: {reading.Error.Sentence}");
        }

        return Reply.Json(Item(ComputedParent.Of(reading.Molecule, request.Name, served.Table), served));
    }

    private static Task<IResult> CoverageAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => (Known.GetValue(table, Covered), ""));

    private static CoverageItem Covered(ServedTable served)
    {
        var coverage = Coverage.Of(served.Table);
        return new CoverageItem(
            served.Table.Version,
            coverage.WithoutSecondDerivative,
            coverage.NeverCrossChecked,
            coverage.InseparablePairs.Count,
            [.. coverage.InseparablePairs.Take(MostPairs)]);
    }

    private static StructureItem Item(ComputedParent computed, ServedTable served) => new(
        served.Table.Version,
        computed.Formula.ToString(),
        computed.Formula.MolarMass,
        computed.Kind,
        computed.Environment.AldehydeGroups,
        computed.Environment.KetoneGroups,
        StructureFeatureNames.Of(computed.Environment.Features),
        [.. computed.Outcomes.Select(outcome => new ExpectedTestItem(
            outcome.Test.Key,
            outcome.PositiveRate,
            outcome.Response?.AppliesTo,
            outcome.Response?.SourceKey,
            outcome.Response?.IsAssumed ?? true))],
        [.. computed.Derivatives.Select(derivative => new ComputedDerivativeItem(
            derivative.Kind.Key,
            derivative.CarbonylsCondensed,
            derivative.Formula.ToString(),
            derivative.Formula.MolarMass))],
        [.. computed.Duplicates.Select(duplicate => new DuplicateItem(
            duplicate.Parent.Key, duplicate.Parent.Name, duplicate.Reason))],
        computed.Remarks);
}
