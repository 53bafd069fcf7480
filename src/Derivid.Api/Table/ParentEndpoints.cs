using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Drawing;
using Derivid.Core.Structures;

namespace Derivid.Api.Table;

/// <summary>The parents of the reference table.</summary>
public static class ParentEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapParents(this RouteGroupBuilder table)
    {
        var parents = table.MapGroup("/parents").WithTags("Parents");
        parents.MapGet("", ListAsync)
            .TakesTurns()
            .WithName("listParents")
            .WithSummary("List the parent compounds")
            .WithDescription("The carbonyl compounds an unknown may turn out to be, in order of their keys.")
            .WithQuery<ParentQuery>()
            .Produces<Page<Parent>>()
            .Produces(StatusCodes.Status304NotModified);
        parents.MapGet("/{key}", GetAsync)
            .TakesTurns()
            .WithName("getParent")
            .WithSummary("Get one parent compound")
            .WithDescription(
                "The compound with its physical constants and all its derivative records. The key may also be a name, "
                + "a listed synonym or a CAS number.")
            .WithQuery<VersionQuery>()
            .Produces<ParentDetail>()
            .Produces(StatusCodes.Status304NotModified);
        parents.MapGet("/{key}/structure", DrawAsync)
            .WithName("drawParent")
            .WithSummary("Draw a parent compound or a derivative of it")
            .WithDescription(
                "The structure as SVG, in the colour of the text around it; every atom and bond is marked, so that the drawing "
                + "can be read back. With a kind: the derivative, from the parent's carbonyl group and the kind's reagent; "
                + "not found where the table leaves open what it is (the dimedone derivative, rings that a 1,3-dicarbonyl "
                + "compound may close, carbonyl groups that differ). Which of E and Z a C=N has is left open.")
            .WithQuery<DrawingOfParent>()
            .Produces<string>(StatusCodes.Status200OK, MediaTypes.Svg)
            .Produces(StatusCodes.Status304NotModified);
    }

    private static Task<IResult> ListAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<ParentQuery, Parent>(context, tables, Select);

    /// <param name="key">Key, name, listed synonym or CAS number of the parent.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static Task<IResult> GetAsync(string key, HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => table.Parents.Find(key) is { } found
            ? (ParentDetail.Of(table, found), "")
            : (null, table.Parents.Unknown(key)));

    /// <param name="key">Key, name, listed synonym or CAS number of the parent.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static async Task<IResult> DrawAsync(string key, HttpContext context, TableSnapshots tables)
    {
        if (!RequestQuery.Read<DrawingOfParent>(context.Request).Succeeded(out var query, out var problem)
            || !(await tables.FindAsync(query.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (table.Parents.Find(key) is not { } found)
        {
            return new Problem(ProblemTypes.NotFound, table.Parents.Unknown(key)) { TableVersion = table.Table.Version };
        }

        return ParentDrawing.Of(table, table.ParentByKey[found], query).Succeeded(out var drawing, out problem)
            ? Reply.UnlessKnown(context, table.Table.Version, () => Reply.Svg(context, drawing.Svg()))
            : problem with { TableVersion = table.Table.Version };
    }

    private static IEnumerable<Parent> Select(ParentQuery query, ServedTable table, FieldErrors errors)
    {
        IEnumerable<Parent> rows = table.Table.Parents;
        if (query.DerivativeKind is { } name)
        {
            var kind = table.Kinds.Find(name);
            if (kind is null)
            {
                errors.Add("?derivativeKind", table.Kinds.Unknown(name));
            }

            var having = table.Table.Derivatives.Where(d => d.KindKey == kind).Select(d => d.ParentKey).ToHashSet();
            rows = rows.Where(p => having.Contains(p.Key));
        }

        return rows
            .Where(p => query.Kind is null || p.Kind == query.Kind)
            .Where(p => query.Formula is null || p.Formula == query.Formula)
            .Where(p => query.Q is null || Mentions(p, query.Q));
    }

    private static bool Mentions(Parent parent, string letters) =>
        new[] { parent.Name, parent.Key, parent.CasNumber ?? "", parent.Formula }
            .Concat(parent.Synonyms)
            .Any(text => text.Contains(letters, StringComparison.OrdinalIgnoreCase));
}

/// <summary>A structure about to be drawn, and its name.</summary>
/// <param name="Structure">The structure.</param>
/// <param name="Title">What the drawing is called.</param>
internal sealed record ParentDrawing(Molecule Structure, string Title)
{
    /// <summary>Finds what is asked for.</summary>
    /// <param name="table">The table.</param>
    /// <param name="parent">The parent.</param>
    /// <param name="query">What to draw of it.</param>
    public static Outcome<ParentDrawing> Of(ServedTable table, Parent parent, DrawingOfParent query)
    {
        if (SmilesReader.Read(parent.Smiles).Molecule is not { } structure || structure.Atoms.Length > StructureDrawing.MostAtoms)
        {
            return new Problem(
                ProblemTypes.NotFound, $"{parent.Name} has more atoms than are drawn, or no structure that can be read.");
        }

        if (query.Kind is not { } name)
        {
            return query.CarbonylsCondensed is { } alone
                ? FieldErrors.One(
                    "?carbonylsCondensed", $"{alone} without a kind; give the kind of derivative too, or leave it out.")
                : new ParentDrawing(structure, parent.Name);
        }

        if (table.Kinds.Find(name) is not { } key)
        {
            return FieldErrors.One("?kind", table.Kinds.Unknown(name));
        }

        var kind = table.Table.Kinds.First(k => k.Key == key);
        var carbonyls = query.CarbonylsCondensed ?? table.Table.Derivatives
            .Where(d => d.ParentKey == parent.Key && d.KindKey == key)
            .Select(d => d.CarbonylsCondensed)
            .DefaultIfEmpty(1)
            .Min();
        var condensation = Condensation.Of(structure, kind, carbonyls);
        return !condensation.IsTold ? new Problem(ProblemTypes.NotFound, $"{parent.Name} {kind.Name}: {condensation.Reason}")
            : condensation.Product.Atoms.Length > StructureDrawing.MostAtoms
                ? new Problem(ProblemTypes.NotFound, $"{parent.Name} {kind.Name} has more atoms than are drawn.")
            : new ParentDrawing(condensation.Product, $"{parent.Name} {kind.Name}");
    }

    /// <summary>Draws it.</summary>
    public string Svg() => StructureDrawing.Svg(Structure, Title);
}
