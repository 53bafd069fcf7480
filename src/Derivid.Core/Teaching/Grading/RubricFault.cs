using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;

namespace Derivid.Core.Teaching.Grading;

/// <summary>A figure of a rubric that is out of bounds.</summary>
/// <param name="Criterion">The criterion it belongs to. Missing: null, the rubric itself.</param>
/// <param name="Field">The figure, by the name of its property.</param>
/// <param name="Sentence">The value and what is allowed.</param>
public sealed record RubricFault(CriterionKind? Criterion, string Field, string Sentence)
{
    /// <summary>The figures outside the bounds that their properties state. Shape: points first, as criteria inherit them.</summary>
    internal static IEnumerable<RubricFault> OutOfBounds(object rules, CriterionKind? criterion) =>
        from property in rules.GetType().GetProperties()
        let bounds = property.GetCustomAttribute<RangeAttribute>()
        where bounds is not null
        orderby property.DeclaringType == rules.GetType()
        let value = property.GetValue(rules)
        where !bounds.IsValid(value)
        select new RubricFault(criterion, property.Name, string.Create(
            CultureInfo.InvariantCulture, $"{value} must lie from {bounds.Minimum} to {bounds.Maximum}."));
}
