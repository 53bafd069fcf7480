using System.Collections.ObjectModel;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Derivid.Api.Http;

/// <summary>Reads the query of an address into a record, as strictly as a body.</summary>
public static class RequestQuery
{
    /// <summary>Reads the query.</summary>
    /// <typeparam name="T">The record whose properties are the parameters allowed.</typeparam>
    /// <param name="request">The request.</param>
    public static Outcome<T> Read<T>(HttpRequest request)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(request);
        var values = new JsonObject();
        return Check(request, ShapeOf.Members(typeof(T)), values) is { } problem
            ? problem
            : (T)values.Deserialize(typeof(T), ServiceContext.Wire)!;
    }

    /// <summary>The problem of a query where there should be none.</summary>
    /// <param name="request">The request.</param>
    /// <returns>Missing: null, there is none.</returns>
    public static Problem? Refused(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return Check(request, ReadOnlyDictionary<string, ShapeOf.Member>.Empty, []);
    }

    private static Problem? Check(HttpRequest request, IReadOnlyDictionary<string, ShapeOf.Member> members, JsonObject values)
    {
        var errors = new FieldErrors();
        foreach (var (name, given) in request.Query)
        {
            var place = "?" + name;
            if (members.GetValueOrDefault(name) is not { } member)
            {
                errors.Add("?" + Text.Shortened(name), $"{Text.Quoted(name)} is not known here; allowed: {Allowed(members.Keys)}.");
            }
            else if (given.Count != 1)
            {
                errors.Add(place, "Given more than once; once is allowed.");
            }
            else
            {
                var value = ValueOf(given.ToString(), member.Info.PropertyType);
                Shape.Check(JsonSerializer.SerializeToElement(value), member, Place.At(place), errors);
                values[name] = value;
            }
        }

        foreach (var (name, _) in members.Where(member => member.Value.IsRequired && !request.Query.ContainsKey(member.Key)))
        {
            errors.Add("?" + name, "Missing; it is needed here.");
        }

        return errors.ToProblem();
    }

    private static string Allowed(IEnumerable<string> names) =>
        string.Join(", ", names) is { Length: > 0 } some ? some : "no parameters";

    private static JsonValue ValueOf(string text, Type type)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type == typeof(bool) && bool.TryParse(text, out var truth))
        {
            return JsonValue.Create(truth);
        }

        var isNumber = type == typeof(double) || type == typeof(int);
        return isNumber && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number)
            ? JsonValue.Create(number)
            : JsonValue.Create(text);
    }
}

/// <summary>Holds an endpoint that states no query parameters to taking none.</summary>
public sealed class NoQueryFilter : IEndpointFilter
{
    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        var isStated = context.HttpContext.GetEndpoint()?.Metadata.GetMetadata<QueryRecord>() is not null;
        return !isStated && RequestQuery.Refused(context.HttpContext.Request) is { } problem ? problem : await next(context);
    }
}
