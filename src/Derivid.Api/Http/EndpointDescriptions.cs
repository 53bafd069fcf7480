
namespace Derivid.Api.Http;

/// <summary>What an endpoint says of itself beyond what the framework knows.</summary>
public static class EndpointDescriptions
{
    /// <summary>States the query parameters: the properties of a record.</summary>
    /// <typeparam name="TQuery">The record.</typeparam>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder WithQuery<TQuery>(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new QueryRecord(typeof(TQuery)));

    /// <summary>States what a part of the address is.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="name">Its name in the address.</param>
    /// <param name="description">What it is.</param>
    public static TBuilder WithPath<TBuilder>(this TBuilder builder, string name, string description)
        where TBuilder : IEndpointConventionBuilder =>
        builder.WithMetadata(new PathParameter(name, description));

    /// <summary>States problems the endpoint, or each of a group, may answer with.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="problems">The problems.</param>
    public static TBuilder ProducesProblems<TBuilder>(this TBuilder builder, params ProblemType[] problems)
        where TBuilder : IEndpointConventionBuilder =>
        builder.WithMetadata(new ProblemsAnswered(problems));
}
