using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Says in the document what each group of operations is for.</summary>
public sealed class DocumentedTags : IDocumentFilter
{
    private static readonly Dictionary<string, string> Descriptions = new(StringComparer.Ordinal)
    {
        ["Audit"] = "Who changed what, when and why.",
        ["Courses"] = "A class: its roster, the unknowns handed out, reports, grading and the gradebook.",
        ["Curation"] = "Changing the reference table: proposals, imports, review and release, and readings typed from a source.",
        ["Derivatives"] = "The listed derivatives of all compounds, with their melting ranges and sources.",
        ["Health"] = "Whether the service runs, and whether it can answer.",
        ["Identifications"] = "Naming an unknown from what was observed, alone or in batches, and the answers kept.",
        ["Keys"] = "The keys that people and programs sign in with.",
        ["Parents"] = "The listed carbonyl compounds.",
        ["Practice"] = "Work at the bench: making derivatives, what to do first, and reading melting ranges.",
        ["Table versions"] = "Every released version of the reference table, what differs between two, and files of them.",
        ["Thermometers"] = "Thermometers and what standards read on them.",
        ["Vocabularies"] = "The words that an observation is written with: derivative kinds, spot tests, colours, standards, sources.",
    };

    /// <inheritdoc/>
    public void Apply(OpenApiDocument swaggerDoc, DocumentFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(swaggerDoc);
        foreach (var tag in swaggerDoc.Tags ?? new HashSet<OpenApiTag>())
        {
            tag.Description = Descriptions[tag.Name!];
        }
    }
}
