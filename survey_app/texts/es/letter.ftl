## Needs the review of a native speaker.

letter-title = ¿Qué edad tiene su calentador de agua?
letter-body = La mayoría de los calentadores de aquí se instalaron juntos y envejecen juntos. Al final todos tienen una fuga. Una fuga es un piso mojado, un trabajo con prisa y un precio alto.
    Cuéntenos del suyo. Toma tres minutos. Luego ve cómo está su calentador, y los vecinos pueden cuidarlo o reemplazarlo juntos, por menos.
letter-how = Apunte la cámara de su teléfono al cuadro, o vaya a { $address }. Luego escriba este código. Abre su casa y ninguna otra.
letter-code = Su código privado
letter-privacy-head = Quién ve qué
letter-privacy = Los voluntarios que llevan la encuesta ven sus respuestas.
    El comité y los vecinos solo ven cifras de muchas casas juntas.
    Si dice que sí a un día de servicio o a una compra en grupo, el comité y los trabajadores ven su dirección.
    Usted puede ver, corregir, imprimir y borrar todo con su código.
letter-paper = ¿Sin teléfono? Llene el reverso de esta hoja y entréguela a un voluntario. "No sé" es una buena respuesta.
letter-first = ¿Huele a gas? Salga ahora, y llame desde afuera a la compañía de gas o al número de emergencia. ¿Agua en el piso? Cierre el agua fría en el calentador. La encuesta puede esperar.
letter-form = El formulario en papel
letter-look = Solo mire. No abra ni gire nada. Deje en blanco lo que no sepa. Las fechas pueden ser aproximadas: basta "hacia 2012".
