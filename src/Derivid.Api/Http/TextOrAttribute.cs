namespace Derivid.Api.Http;

/// <summary>Marks a wire type that is written either as text or as an object.</summary>
/// <param name="objectType">The record the object must fit.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class TextOrAttribute(Type objectType) : Attribute
{
    /// <summary>The record the object must fit.</summary>
    public Type ObjectType { get; } = objectType;
}
