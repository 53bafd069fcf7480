using Derivid.Api.Http;
using Microsoft.AspNetCore.Authorization;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Access;

/// <summary>Writes into the document who may call an operation, and the header that says why something is changed.</summary>
public sealed class DocumentedAccess : IOperationFilter
{
    /// <summary>Name of the security scheme.</summary>
    public const string Scheme = "bearer";

    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var policies = context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<IAuthorizeData>().ToList();
        if (policies is not [.., { Policy: { } strictest }])
        {
            // Said of each, since there is none for all: an empty list is none needed.
            operation.Security = [];
            return;
        }

        var withKey = new OpenApiSecurityRequirement
        {
            [new OpenApiSecuritySchemeReference(Scheme, context.Document)] = [],
        };
        if (strictest == Policies.Reader)
        {
            // An empty requirement beside another makes it optional (OpenAPI 3.1, Security Requirement Object).
            operation.Security = [new OpenApiSecurityRequirement(), withKey];
            return;
        }

        operation.Security = [withKey];
        operation.Description += $" Needs the role {strictest}.";
        if (!HttpMethods.IsGet(context.ApiDescription.HttpMethod ?? ""))
        {
            DocumentedParameters.AddHeader(
                operation,
                Caller.ReasonHeader,
                "Why, in one line; the audit log keeps it. Missing: the log doesn't say.",
                isRequired: false,
                longest: Caller.LongestReason);
        }
    }
}
