namespace Derivid.Api.Http;

/// <summary>Names the record whose properties are an endpoint's query parameters.</summary>
/// <param name="Type">The record.</param>
public sealed record QueryRecord(Type Type);

/// <summary>Says what a part of an endpoint's address is.</summary>
/// <param name="Name">Its name in the address.</param>
/// <param name="Description">What it is.</param>
/// <param name="IsNumber">Whether it is a whole number from 1; another word there is nothing's address.</param>
public sealed record PathParameter(string Name, string Description, bool IsNumber);

/// <summary>Problems an endpoint may answer with; several add up.</summary>
/// <param name="Types">The problems.</param>
public sealed record ProblemsAnswered(IReadOnlyList<ProblemType> Types);

/// <summary>Says that a write must name the revision it is meant for.</summary>
public sealed record NeedsRevision;

/// <summary>Says that a write sent again under one key changes nothing.</summary>
/// <param name="AnswersAgain">Whether it is answered with what was made; else with a problem that names it.</param>
public sealed record TakesIdempotencyKey(bool AnswersAgain);

/// <summary>What an endpoint says of itself beyond what the framework knows; the document tells it, and requests are held to it.</summary>
public static class EndpointDescriptions
{
    /// <summary>States the query parameters: the properties of a record. An endpoint that states none takes none.</summary>
    /// <typeparam name="TQuery">The record.</typeparam>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder WithQuery<TQuery>(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new QueryRecord(typeof(TQuery)));

    /// <summary>States what a part of the address is.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="name">Its name in the address.</param>
    /// <param name="description">What it is.</param>
    /// <param name="isNumber">Whether it is a whole number from 1.</param>
    public static TBuilder WithPath<TBuilder>(this TBuilder builder, string name, string description, bool isNumber = false)
        where TBuilder : IEndpointConventionBuilder =>
        builder.WithMetadata(new PathParameter(name, description, isNumber));

    /// <summary>States the body, and what any body may be refused for.</summary>
    /// <typeparam name="TBody">The wire record.</typeparam>
    /// <param name="endpoint">The endpoint.</param>
    /// <param name="otherTypes">Media types taken besides JSON.</param>
    public static RouteHandlerBuilder WithBody<TBody>(this RouteHandlerBuilder endpoint, params string[] otherTypes)
        where TBody : notnull =>
        endpoint.Accepts<TBody>(MediaTypes.Json, otherTypes)
            .ProducesProblems(ProblemTypes.MalformedJson, ProblemTypes.TooLarge, ProblemTypes.UnsupportedMediaType);

    /// <summary>States problems the endpoint, or each of a group, may answer with.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="problems">The problems.</param>
    public static TBuilder ProducesProblems<TBuilder>(this TBuilder builder, params ProblemType[] problems)
        where TBuilder : IEndpointConventionBuilder =>
        builder.WithMetadata(new ProblemsAnswered(problems));

    /// <summary>States that sending the request again under one key changes nothing.</summary>
    /// <param name="endpoint">The endpoint.</param>
    /// <param name="answersAgain">Whether it is answered with what was made; else with a problem that names it.</param>
    public static RouteHandlerBuilder WithIdempotencyKey(this RouteHandlerBuilder endpoint, bool answersAgain = true) =>
        endpoint.WithMetadata(new TakesIdempotencyKey(answersAgain)).ProducesProblems(ProblemTypes.IdempotencyKeyReused);

    /// <summary>States that a change must name the revision it is meant for.</summary>
    /// <param name="endpoint">The endpoint.</param>
    public static RouteHandlerBuilder TakesRevision(this RouteHandlerBuilder endpoint) =>
        endpoint.WithMetadata(new NeedsRevision())
            .ProducesProblems(ProblemTypes.RevisionRequired, ProblemTypes.StaleRevision);
}
